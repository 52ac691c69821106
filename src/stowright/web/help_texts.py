"""Trade terms, each with a sentence and a small sketch, opened where the term stands."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.web.markup import Markup, h

__all__ = ["HELP", "help_for"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """A term, what it means, and lines of a sketch in a field of 120 by 60."""

    term: str
    text: str
    thick: str = ""
    thin: str = ""


HELP: dict[str, Help] = {
    "packing": Help(
        term="packing",
        text="Where each thing lies, layer by layer, seen from above with the face below. Heavy "
        "things lie low, daily things near the face. A board across keeps what lies behind it.",
        thick="M10 8 H110 V52 H10 Z",
        thin="M10 30 H58 V52 M58 8 V52 M58 22 H110 M84 22 V52",
    ),
    "lashing": Help(
        term="riding on a deck",
        text="What stands on the deck is held by straps from it to rings bolted through the deck, "
        "to a tie rail or to an anchor of the vehicle. Say where its middle lies, or leave that "
        "to the plan, which lays it out from the cab end.",
        thick="M10 46 H110 M38 46 V22 H82 V46",
        thin="M38 22 L22 46 M82 22 L98 46 M18 46 A4 4 0 0 1 26 46 M94 46 A4 4 0 0 1 102 46",
    ),
    "tie rail": Help(
        term="tie rail",
        text="A rail with tie points, bolted through the deck along an edge. What one point takes "
        "is its maker's figure; without it the plan proves the way into the deck only.",
        thick="M10 44 H110 M22 36 H98",
        thin="M30 36 V52 M60 36 V52 M90 36 V52 M45 36 A5 5 0 0 1 55 36 M70 36 A5 5 0 0 1 80 36",
    ),
    "refit": Help(
        term="refit",
        text="Parts that are cut keep their size. What is still to be cut follows the reading, "
        "and thin shims behind a runner take up what is left, screw by screw.",
        thick="M16 8 V52 M104 8 V52 M28 16 H92 V44 H28 Z",
        thin="M17 30 H27 M93 30 H103 M20 24 V36 M23 24 V36",
    ),
    "arch": Help(
        term="wheel arch",
        text="The bulge over the wheel. Its reach is how far it stands in from the wall at the "
        "floor; start and end are read from the tail.",
        thick="M10 50 H110 M40 50 V28 Q40 20 48 20 H80 Q88 20 88 28 V50",
        thin="M40 56 H88 M96 20 V50",
    ),
    "between": Help(
        term="between the arches",
        text="The clear width from arch to arch. Read it at the floor, at the middle and near both "
        "ends; the least one governs.",
        thick="M10 10 V50 H30 V30 H24 V10 M110 10 V50 H90 V30 H96 V10 M30 50 H90",
        thin="M31 40 H89",
    ),
    "station": Help(
        term="station",
        text="One reading of the width, with where it was taken: how far from the tail and how "
        "high. Three on the floor and one at deck height show taper and lean.",
        thick="M10 12 L110 16 M10 48 L110 44",
        thin="M20 12 V48 M60 14 V46 M100 16 V44",
    ),
    "diagonals": Help(
        term="diagonals",
        text="Corner to corner on the floor, both ways. Their difference shows how far the bay is "
        "out of square.",
        thick="M14 10 H106 V50 H14 Z",
        thin="M14 10 L106 50 M14 50 L106 10",
    ),
    "rail": Help(
        term="side rail",
        text="The upper edge of the side wall. Height from the floor, on top of the ribs.",
        thick="M20 8 V52 H110 M12 8 H28",
        thin="M50 10 V50",
    ),
    "lean": Help(
        term="lean of the tail",
        text="How far the inner face of the shut tailgate, glass or door stands in at a height.",
        thick="M20 52 L34 8 M20 52 H110",
        thin="M20 8 H33 M20 6 V52",
    ),
    "cove": Help(
        term="cove",
        text="The rounded corner between floor and wall. The unit stays clear of it.",
        thick="M14 8 V36 Q14 52 30 52 H110",
        thin="M30 36 L19 47",
    ),
    "sill": Help(
        term="doorway",
        text="The clear opening the unit has to pass, and the step at its lower edge.",
        thick="M14 8 V52 M106 8 V52 M14 46 H106 M14 10 H106",
        thin="M18 30 H102",
    ),
    "rib": Help(
        term="ribs",
        text="The ridges of a pressed floor. Heights are read from the top of the ribs.",
        thick="M8 44 H22 V34 H38 V44 H54 V34 H70 V44 H86 V34 H102 V44 H114",
        thin="M46 34 V44",
    ),
    "reading-error": Help(
        term="reading error",
        text="How far a single tape reading may be out, either way. It is kept off every size.",
        thick="M14 30 H100",
        thin="M96 20 V40 M104 20 V40",
    ),
    "share": Help(
        term="share",
        text="Takes what is left when the fixed sizes are taken off; several shares divide it.",
        thick="M10 12 H110 V48 H10 Z M40 12 V48 M75 12 V48",
        thin="M42 30 H73 M77 30 H108",
    ),
    "runner": Help(
        term="runner",
        text="The pair of slides that a drawer runs on. On auto the longest one that fits and "
        "carries the load is taken.",
        thick="M10 20 H110 V28 H10 Z M30 34 H118 V40 H30 Z",
        thin="M60 28 V34",
    ),
    "deck": Help(
        term="deck",
        text="The platform on top of the blocks, level or below the side rail.",
        thick="M10 22 H110 V28 H10 Z M20 28 V52 M60 28 V52 M100 28 V52",
        thin="M8 10 H30 M16 10 V22",
    ),
    "wing": Help(
        term="wing",
        text="Covers the space over the wheel arch beside the block; fixed, or a lid to lift.",
        thick="M8 24 H38 M40 24 H112 V52 H40 Z",
        thin="M8 24 V52 M10 52 Q22 34 38 52",
    ),
    "caliper": Help(
        term="caliper readings",
        text="The true thickness of the batch in hand, read at several places. Sizes are made from "
        "their mean.",
        thick="M10 14 H70 V24 H24 V46 H10 Z M70 14 V24 M96 24 H44 V46 H58",
        thin="M26 50 H42",
    ),
    "kerf": Help(
        term="kerf",
        text="What the blade turns to dust. Cut on the waste side of the line.",
        thick="M8 16 H56 V44 H8 Z M64 16 H112 V44 H64 Z",
        thin="M56 50 H64",
    ),
    "hold-point": Help(
        term="hold point",
        text="Stop here and read. Go on only when the reading lies within the limits.",
        thick="M44 8 H76 L96 24 V40 L76 54 H44 L24 40 V24 Z",
        thin="M46 31 H74",
    ),
    "utilisation": Help(
        term="how much is used",
        text="What is asked divided by what it can bear. Above 100 % it is too weak.",
        thick="M10 22 H110 V38 H10 Z",
        thin="M10 30 H82 M110 14 V46",
    ),
}


def help_for(name: str) -> Markup:
    """Return the help of a term, shut until it is asked for."""
    known = HELP[name]
    sketch = h(
        "svg",
        h("path.thick", d=known.thick),
        h("path.thin", d=known.thin) if known.thin else None,
        viewBox="0 0 120 60",
        aria_hidden="true",
    )
    return h(
        "details.help",
        h(
            "summary",
            h("span", "?", aria_hidden="true"),
            h("span.said-only", f"What is meant by {known.term}"),
        ),
        h("div", sketch, h("p", known.text)),
    )
