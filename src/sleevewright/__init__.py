"""Plans, proves and records the re-sleeving of engine cylinders."""

__version__ = "0.1.0"
