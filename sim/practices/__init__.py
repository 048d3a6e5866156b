"""What a gardener can do: nets, sprays, work by hand, minutes and money."""
