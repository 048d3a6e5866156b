"""What every page shares: the visit and its head, language and view, seasons run, pictures put and taken away."""
