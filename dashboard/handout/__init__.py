"""A handout of the comparison in hand: what stands on it (``contents``), as PDF, word-processor file and text."""
