"""The panel as a drawing for the cutter: written from the records, and read back to be held against them. Inches throughout."""
