"""The shelf: the jobs that lie in the folder, each with its next move."""
