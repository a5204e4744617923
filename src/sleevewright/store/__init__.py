"""The store: every record of every job, kept once, in order, chained, never altered."""
