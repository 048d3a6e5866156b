"""Sharing the pages with the class's devices: a second server, opened and closed by an explicit act."""
