"""Small sketches of the kinds of bay, seen from the tail and a little from above."""

from __future__ import annotations

from stowright.web.markup import Markup, h

__all__ = ["kind_sketch"]

_LINES = {
    "tub": (
        "M10 56 H90 V34 H10 Z M10 34 L24 16 H96 L90 34 M90 56 L96 36 V16",
        "M24 16 V20 M38 34 V46 M62 34 V46",
    ),
    "van": (
        "M14 58 V20 Q14 10 24 10 H76 Q86 10 86 20 V58 Z M50 10 V58",
        "M42 36 H46 M54 36 H58 M14 50 H86",
    ),
    "wagon": (
        "M12 58 V36 Q16 14 30 12 H70 Q84 14 88 36 V58 Z M18 58 V40 H82 V58",
        "M22 40 Q26 20 34 18 H66 Q74 20 78 40",
    ),
    "tray": (
        "M8 46 H92 V52 H8 Z M8 46 L22 30 H98 L92 46 M22 30 V16 H34 V30",
        "M22 52 V60 M78 52 V60",
    ),
}


def kind_sketch(kind: str) -> Markup:
    """Return the sketch of a kind of bay; it says nothing that the words do not."""
    thick, thin = _LINES[kind]
    return h(
        "svg",
        h("path.thick", d=thick),
        h("path.thin", d=thin),
        viewBox="0 0 104 68",
        aria_hidden="true",
    )
