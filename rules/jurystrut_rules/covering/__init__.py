"""Rules on fabric and what goes onto it."""
