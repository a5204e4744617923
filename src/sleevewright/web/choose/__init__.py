"""The page on which a fit is chosen: one picture while the interference moves."""
