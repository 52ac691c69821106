"""What would settle a finding that is not proved: a field of the job, or a row of the shelf.

Most findings name it themselves. Where one only says in words what lacks (a joint held, a second
line of defence), the field that leads there stands in this table, with what it may hold.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from stowright.model.finding import Finding

__all__ = ["FIELD", "names_a_field", "with_field"]

#: How a field of the job, or a table of the catalogue, is named in what a finding needs.
FIELD: Final = re.compile(
    r"\b(job|bay|vehicle|carry|block|deck|build|contact|reading|fill|wings|rules)"
    r"(\.[a-z_]+|: |\b\s*=)|\bcatalogue [a-z]"
)

_SHEETS = "the name of a thicker sheet: birch-15, birch-18, …"
_HELD = 'build.joint: "butt", "rebate" or "housing", and build.back: "panel", so that it is held'
_WING = (
    f"build.deck_sheet: {_SHEETS}; or block.wings: "
    '{left = "fixed" | "lid" | "none", right = …} without a wing there'
)
_DECK = (
    "deck.overhang: a length of 0 or more, deck.over: a block under it, build.deck_sheet: "
    f"{_SHEETS}"
)

#: By the first words of a finding's code, the longest first.
_BY_CODE: Final[dict[str, str]] = {
    "BOTTOM-": 'build.bottom_fit: "grooved", "planted" or "between"',
    "FRONT-PULL": 'build.bottom_fit: "grooved", and build.front: "inset" or "overlay"',
    "FRONT-": f"build.drawer: {_SHEETS}",
    "BACK-": f"build.drawer: {_SHEETS}",
    "SIDE-": f"build.drawer: {_SHEETS}",
    "SHELF-": _HELD,
    "FLOOR-": _HELD,
    "CLEAT-JOINT": _WING,
    "WING-": _WING,
    "DECK-": _DECK,
    "DRAINS": 'build.packers: {how = "on-ribs" | "in-valleys" | "none", sheet = …}',
    "HAZARD": (
        'carry.goes_in: an opening with fill.vent (cm2), kept off people; it stays "not proved" '
        "until somebody licensed has looked at it"
    ),
    "HEAT": f"build.drawer, build.carcass: {_SHEETS}, which take screws in these joints too",
    "LATCH-SECOND": (
        'fill.latch: the name of a latch beside a runner that locks (fill.lock = "in"), or '
        "bay.tailgate, or bay.opening.height: a length, of a door that shuts before it"
    ),
    "LATCH": 'fill.latch: the name of a latch, or fill.lock: "in" with a runner that locks',
    "LIFT": "carry.mass, carry.quantity: less at once; or carry.goes_in: one in better reach",
    "LOOSE": "carry.goes_in: a drawer or locker, or fill.net: true",
    "RACKING": 'build.back: "panel" or "frame"',
    "RESTRAINT-PATH": f"build.carcass: {_SHEETS}, build.joint: a joint that is glued",
    "RESTRAINT-SHEET": "bay.floor: {material, thickness of 0.5 mm or more}",
    "RESTRAINT": "bay.anchors: {x, y, thread, tension and shear in N}",
    "RUNNER-FIXINGS": f"build.drawer, build.carcass: {_SHEETS}, which take longer screws",
    "SCREW-EDGE": "catalogue screws: a row of a lesser diameter, so that 3 d is kept",
    "SEATS": 'vehicle.also: without it, the seat stays in; with it, it stays "not proved"',
    "TIP-": "bay.anchors: {x, y, thread, tension and shear in N}, or bay.no_drill: looked for",
    "UPRIGHT-": f"build.carcass: {_SHEETS}",
    "RAIL-": f"build.carcass: {_SHEETS}",
}


def names_a_field(finding: Finding) -> bool:
    """Tell whether a finding says which field or row would settle it."""
    return any(FIELD.search(line) for line in finding.needs)


def with_field(finding: Finding) -> Finding:
    """Return a finding; one that is not proved names the field that would settle it."""
    if finding.status != "not proved" or names_a_field(finding):
        return finding
    codes = [code for code in _BY_CODE if finding.id.startswith(code)]
    if not codes:
        return finding
    return replace(finding, needs=(*finding.needs, _BY_CODE[max(codes, key=len)]))
