"""Pages of the hot steps: ready when, the drop, the cooling."""
