"""Use cases: the only door for interfaces."""
