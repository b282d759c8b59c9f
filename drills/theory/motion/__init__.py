"""Moves: what a player does with a voicing, one file a move; each answers with a voicing named anew."""
