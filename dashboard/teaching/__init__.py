"""Lessons as files, and the papers that are made from them: teacher's sheet, student's sheet, cards."""
