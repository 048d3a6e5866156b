"""A lesson in hand: what was chosen and guessed, as words of an address, as a short code and as a file."""
