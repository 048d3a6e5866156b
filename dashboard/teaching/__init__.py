"""Lessons at work: teacher's sheet, student's sheet and cards, and what a lesson asks on the screen."""
