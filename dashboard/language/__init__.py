"""How things are said: the language and the units spoken, numbers and days in words, and the words of caution."""
