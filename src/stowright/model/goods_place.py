"""Where things stand that a step fits without a pilot hole. Millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["GoodsPlace"]


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsPlace:
    """Where a thing stands that a step fits without a pilot hole: a stop, its block, a hook.

    As one looks at the face of its opening. [mm]

    Attributes:
        opening: The opening's name.
        kind: A rubber stop, a block that one stands on, or the hook of a net.
        what: Catalogue name; a net's where a hook of it goes.
        on: What it stands on.
        across: Its middle from the left upright.
        inwards: Its face end from the face edge of the uprights.
        up: Its middle above what is under the opening.
        size: Across, inwards and up; nothing of a hook, which goes to a point.
        count: How many of them lie one on the other there.
    """

    opening: str
    kind: Literal["stop", "block", "hook"]
    what: str
    on: Literal["back", "upright", "floor", "top"]
    across: float
    inwards: float
    up: float
    size: tuple[float, float, float]
    count: int = 1

    @property
    def is_hook(self) -> bool:
        """Whether it is a hook of a net."""
        return self.kind == "hook"
