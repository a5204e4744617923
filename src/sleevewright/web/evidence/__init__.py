"""The evidence: every published check, run again."""
