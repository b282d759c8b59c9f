"""Decks written to the files that people take away."""
