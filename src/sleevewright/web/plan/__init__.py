"""The plan page: every answer of a job, each opening to what it rests on."""
