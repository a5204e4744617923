"""What is cut: what is left, what a next sleeve would have to be."""
