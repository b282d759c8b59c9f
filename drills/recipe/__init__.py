"""Recipes: read from TOML, checked on the way in, frozen afterwards."""
