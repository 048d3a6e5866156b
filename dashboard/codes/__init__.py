"""Short codes: a whole setting as a few letters that can be read aloud, and back (``lesson_code.code_of``)."""
