"""The same pictures on paper: a scene in, a page, half a page or a slide out, drawn by matplotlib only when asked."""
