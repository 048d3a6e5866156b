"""Pictures: one function returns what a picture shows; others draw it on screen or on paper, or say it."""
