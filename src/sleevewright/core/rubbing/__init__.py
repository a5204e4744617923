"""From a scanned rubbing of the wall to the outlines of its ports."""
