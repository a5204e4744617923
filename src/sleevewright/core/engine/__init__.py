"""The engine around the cylinder: slider-crank and port timing."""
