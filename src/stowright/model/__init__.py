"""Frozen values that every room shares; no input or output."""
