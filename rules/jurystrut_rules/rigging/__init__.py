"""Rules for squareness, angles, controls and their cables."""
