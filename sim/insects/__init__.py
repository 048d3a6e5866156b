"""Insects one by one: their record, the rules of their life, hosts and arrivals."""
