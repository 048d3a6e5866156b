"""Patterns that others have published or that the trade knows, and what the model gives for each.

A pattern is one number found by living whole gardens. ``patterns.toml`` says what is expected of it, by whom, and
whether a parameter was set by that very figure: then it is no check.
"""
