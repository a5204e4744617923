"""The metronome of a hone: a page that beats the strokes and tells the angle they make."""
