"""How tight: interference, pressure, stress, hold, yield, close-up, running fit."""
