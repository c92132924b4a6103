"""Rules on weight and balance."""
