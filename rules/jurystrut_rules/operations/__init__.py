"""What the intended flights ask of the aircraft."""
