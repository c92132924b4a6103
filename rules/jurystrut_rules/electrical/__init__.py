"""Rules on wires, protective devices, switches and sources."""
