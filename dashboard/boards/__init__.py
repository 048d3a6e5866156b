"""Parts of a screen that answer one question each, and the screens of a room with a projector."""
