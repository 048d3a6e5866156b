"""Days: generated from monthly normals or read from a file; warmth and daylight."""
