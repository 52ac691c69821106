"""Findings about a design: physics and fit, each with its working."""

from __future__ import annotations

from stowright.proofs.prove import prove, ranked

__all__ = ["prove", "ranked"]
