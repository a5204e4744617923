"""The published checks, as cases that anyone can rerun."""
