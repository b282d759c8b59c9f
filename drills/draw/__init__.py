"""Neck pictures, drawn with Pillow."""
