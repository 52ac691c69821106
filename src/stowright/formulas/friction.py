"""Friction of loads on floors: CTU Code pairs and what follows from them."""

from __future__ import annotations

from typing import Final

from stowright.errors import UnknownNameError, require_not_negative
from stowright.formulas.sources import Source

__all__ = [
    "PLYWOOD_ON_PAINTED_STEEL",
    "SOURCES",
    "STATIC_FRICTION",
    "dynamic_friction",
    "static_friction",
]

# Swept clean surfaces; where dry and wet are both listed they are the same.
STATIC_FRICTION: Final = {
    "sawn timber on plywood": 0.45,
    "planed wood on plywood": 0.30,
    "sawn timber on stainless sheet": 0.30,
    "planed wood on stainless sheet": 0.20,
    "planed wood on grooved aluminium": 0.25,
    "plastic pallet on plywood": 0.20,
    "steel crate on plywood": 0.45,
    "painted smooth metal on painted smooth metal": 0.20,
    "painted rough metal on painted rough metal": 0.30,
    "anything on rubber mat": 0.60,
    "anything dirty, icy or greasy": 0.20,
}
# No published row was found for it: a cautious stand-in.
PLYWOOD_ON_PAINTED_STEEL: Final = 0.20

SOURCES: Final = {
    "static_friction": Source(
        text=(
            "CTU Code (IMO/ILO/UNECE), Annex 7, Appendix 2; rubber mat as in EN 12195-1 (restated);"
            " dirty surfaces from memory"
        ),
        standing="published",
    ),
    "dynamic_friction": Source(
        text="CTU Code, Annex 7, Appendix 2: 75 per cent of static", standing="published"
    ),
}


def static_friction(pair: str) -> float:
    """Return the static friction of a pair of surfaces. [-].

    Source: CTU Code, Annex 7, Appendix 2. Standing: published.

    Raises:
        UnknownNameError: If the pair is not in the table.
    """
    if pair not in STATIC_FRICTION:
        raise UnknownNameError("friction pair", pair, tuple(STATIC_FRICTION))
    return STATIC_FRICTION[pair]


def dynamic_friction(*, static: float) -> float:
    """Return the friction once a load moves. [-].

    0.75 of the static value.

    Source: CTU Code, Annex 7, Appendix 2. Standing: published.

    Raises:
        OutOfRangeError: If the static value is negative.
    """
    require_not_negative(static=static)
    return 0.75 * static
