"""The bench's own interface for its pages: records in, records out."""
