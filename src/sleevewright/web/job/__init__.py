"""A job: its route with the stage in hand open, and everything that was told of it."""
