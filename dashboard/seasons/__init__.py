"""Seasons that pages ask for: wished, lived on the work desk, and what is kept of each and read from it."""
