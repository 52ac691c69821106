"""Findings about a design: physics and fit, each with its working."""
