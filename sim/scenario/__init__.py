"""What a scenario is, what a gardener can do in it, and how files are read and changed."""
