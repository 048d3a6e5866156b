"""Nests and how their owners forage."""
