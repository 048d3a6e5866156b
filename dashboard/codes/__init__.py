"""Short codes: a setting as a few letters that can be read aloud, and back; see ``lesson/lesson_code.py``."""
