"""Screens, command and pictures; numbers come from ``sim``."""
