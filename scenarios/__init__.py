"""Gardens of our own, read as package data; every one of them is invented."""
