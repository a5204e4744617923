"""The page that finds past jobs, and the piece that shows what was done before."""
