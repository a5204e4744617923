"""The page of the shop's gauges."""
