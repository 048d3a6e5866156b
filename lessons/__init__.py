"""Ready lessons, and what they share: learners' ideas about food webs, and codes of standards; all of it plain data."""
