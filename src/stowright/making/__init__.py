"""Releases, steps, hardware schedule, hours and cost."""
