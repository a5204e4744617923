"""Paper: a plan in, the bytes of a sheet out."""
