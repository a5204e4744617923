"""Ports as outlines on the wall: their shape, and what the piston leaves open of them."""
