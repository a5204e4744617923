"""The steps, one a module, in the order of their numbers."""
