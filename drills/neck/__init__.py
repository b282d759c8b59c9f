"""The guitar neck and the hand on it: tunings, grips, and the search for them."""
