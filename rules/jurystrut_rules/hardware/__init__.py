"""Rules for bolts, nuts, rivets, clamps, safeties and restraints."""
