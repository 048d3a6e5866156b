"""Natural enemies of plant-eating insects."""
