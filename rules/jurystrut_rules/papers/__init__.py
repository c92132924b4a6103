"""Papers, evidence, inspections, the builder's log, and the deviations that the builder lives with."""
