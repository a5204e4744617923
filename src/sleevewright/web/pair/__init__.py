"""Pairing: the page that asks for the code, the list of devices, the guard of the network."""
