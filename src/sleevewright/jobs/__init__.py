"""A job as frozen records: its file, its fields, its route; pure."""
