"""Drawing scales: the reductions, full size and enlargements that ISO 5455 recommends."""

from __future__ import annotations

__all__ = ["ALL_SCALES", "SCALES", "scale_text"]

#: Paper millimetres per model millimetre, largest first: 5:1, 2:1, 1:1, 1:2, 1:5 … (ISO 5455).
SCALES: tuple[float, ...] = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
#: With the intermediate reductions that ISO 5455 leaves for when the recommended ones do not serve:
#: between 1:20 and 1:50 a large part or a bay would be either too large for its sheet or too small.
ALL_SCALES: tuple[float, ...] = tuple(sorted((*SCALES, 0.04, 1.0 / 30.0, 0.025), reverse=True))


def scale_text(scale: float) -> str:
    """Return a scale as it is written: ``1:10``, ``2:1``."""
    if scale >= 1.0:
        return f"{scale:g}:1"
    return f"1:{1.0 / scale:g}"
