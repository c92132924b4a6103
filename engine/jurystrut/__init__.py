"""jurystrut: judges the records of an amateur-built aeroplane by rules that each cite a published section."""

__version__ = "0.1.0"
