"""Releases, steps, hardware schedule, hours and cost."""

from __future__ import annotations

from stowright.making.make import make

__all__ = ["make"]
