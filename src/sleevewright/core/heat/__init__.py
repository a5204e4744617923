"""How hot and how long: growth, slip, oven and the seconds of the drop."""
