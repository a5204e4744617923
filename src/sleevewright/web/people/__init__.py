"""The page of the people who work here."""
