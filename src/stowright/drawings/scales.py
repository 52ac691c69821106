"""Drawing scales: the reductions, full size and enlargements that ISO 5455 recommends."""

from __future__ import annotations

from stowright.errors import OutOfRangeError

__all__ = ["ALL_SCALES", "SCALES", "chosen_scale", "scale_text", "smaller_scales"]

#: Paper millimetres per model millimetre, largest first: 5:1, 2:1, 1:1, 1:2, 1:5 … (ISO 5455).
SCALES: tuple[float, ...] = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
#: With the intermediate reductions that ISO 5455 leaves for when the recommended ones do not serve:
#: between 1:20 and 1:50 a large part or a bay would be either too large for its sheet or too small.
ALL_SCALES: tuple[float, ...] = tuple(sorted((*SCALES, 0.04, 1.0 / 30.0, 0.025), reverse=True))


def chosen_scale(
    *, width: float, height: float, room_width: float, room_height: float, largest: float = 1.0
) -> float:
    """Return the largest recommended scale at which something fits a room on paper.

    Args:
        width: Of the thing, in model millimetres.
        height: Of the thing, in model millimetres.
        room_width: Of the room, in paper millimetres.
        room_height: Of the room, in paper millimetres.
        largest: Never larger than this.

    Raises:
        OutOfRangeError: If it does not even fit at 1:100.
    """
    for scale in SCALES:
        if scale <= largest and width * scale <= room_width and height * scale <= room_height:
            return scale
    raise OutOfRangeError("width", max(width, height), "small enough for a drawing at 1:100")


def smaller_scales(scale: float) -> tuple[float, ...]:
    """Return a scale and those below it, largest first."""
    return tuple(s for s in SCALES if s <= scale)


def scale_text(scale: float) -> str:
    """Return a scale as it is written: ``1:10``, ``2:1``."""
    if scale >= 1.0:
        return f"{scale:g}:1"
    return f"1:{1.0 / scale:g}"
