"""Plants: light, growth, damage, flowers and harvest."""
