"""The page of what the shop has learned from its own jobs."""
