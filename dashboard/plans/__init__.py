"""What a plan does and what can be moved in it, in plain words: deeds, choices, bargains, curves."""
