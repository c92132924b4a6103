"""Rules for tanks, fuel flow, lines, firewall and propeller."""
