"""For the workshop: when the weather allows the next coat."""
