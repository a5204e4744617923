"""Pure numbers: SI floats in, SI floats out; no file, clock, log, database or plot."""
