"""What the names on the buying list mean, and the bits that the drawings ask for.

A name of the catalogue is short so that it fits a drawing; whoever buys needs it in words.
"""

from __future__ import annotations

from collections import Counter

from stowright.drawings.part_notes import hole_size
from stowright.model.catalogue import Bolt, Catalogue, Hardware, Nut, Screw, Washer
from stowright.model.design import Design
from stowright.model.runner import Runner
from stowright.units import Unit, format_length, in_job_unit

__all__ = ["bit_rows", "goods_words", "sheet_words"]

type _Row = Screw | Bolt | Nut | Washer | Hardware | Runner

_SCREWS = {
    "countersunk": "countersunk wood screw",
    "pan": "pan head screw",
    "brad": "brad nail",
    "self-drilling": "self-drilling screw",
}
_NUTS = {
    "insert-lock": "lock nut with insert",
    "tee": "tee nut",
    "rivet": "rivet nut",
    "plain": "nut",
}
_HEADS = {"hex": "hexagon head", "countersunk": "countersunk head", "coach": "cup square head"}
_FAMILIES = {
    "ply": "plywood of no known make-up",
    "birch": "birch plywood",
    "softwood": "softwood plywood",
    "hardwood": "hardwood plywood",
    "poplar": "poplar plywood",
}


def goods_words(name: str, catalogue: Catalogue, units: Unit) -> str:
    """Return a name of the schedule in words; empty for what is not in the catalogue."""
    base = name.partition(", ")[0]
    rows: tuple[_Row, ...] = (
        *catalogue.screws,
        *catalogue.bolts,
        *catalogue.nuts,
        *catalogue.washers,
        *catalogue.hardware,
        *catalogue.runners,
    )
    row = next((row for row in rows if row.name == base), None)
    return _wet_words(name, catalogue) if row is None else in_job_unit(_described(row), units)


def _wet_words(name: str, catalogue: Catalogue) -> str:
    for glue in catalogue.adhesives:
        if glue.name == name:
            return f"wood glue, durability class {glue.durability}"
    for finish in catalogue.finishes:
        if finish.name == name:
            return f"{finish.name} finish, {finish.coats} coats"
    return ""


def _mm(value: float) -> str:
    return f"{format_length(value)} mm"


def _sizes(*values: float) -> str:
    return f"{' × '.join(format_length(value) for value in values if value)} mm"


def _described(row: _Row) -> str:
    if isinstance(row, Screw):
        return f"{_SCREWS[row.kind]}, {_sizes(row.diameter, row.length)}"
    if isinstance(row, Bolt):
        long = "over all" if row.head == "countersunk" else "under the head"
        return f"{row.thread} bolt, {_HEADS[row.head]}, {_mm(row.length)} {long}, grade {row.grade}"
    if isinstance(row, Nut):
        return f"{row.thread} {_NUTS[row.kind]}, {_mm(row.height)} high"
    if isinstance(row, Washer):
        what = "plate" if row.name.startswith("plate") else "washer"
        return f"{row.shape} {what} {row.thread}, {_sizes(row.outside, row.thickness)}"
    if isinstance(row, Hardware):
        return f"{row.kind}, {_sizes(*row.size)}"
    return _runner_words(row)


def _runner_words(row: Runner) -> str:
    locks = [word for word, has in (("shut", row.lock_in), ("open", row.lock_out)) if has]
    lock = f", locks {' and '.join(locks)}" if locks else ""
    return (
        f"full-extension runner, {_mm(row.section)} high, {_mm(row.thickness)} thick{lock}"
        f"{', laid flat' if row.mount == 'flat' else ''}"
    )


def sheet_words(name: str, catalogue: Catalogue, units: Unit) -> str:
    """Return a sheet's name in words: what it is, its trade thickness, its plies."""
    for row in catalogue.materials:
        if row.name == name:
            plies = f", {row.plies} plies" if row.plies else ""
            words = f"{_FAMILIES.get(row.family, row.family)}, {_mm(row.nominal)} nominal{plies}"
            return in_job_unit(words, units)
    return ""


def bit_rows(design: Design, units: Unit) -> list[list[str]]:
    """Return the drills the parts ask for, thinnest first: size, how many holes, what for."""
    counts: Counter[float] = Counter()
    uses: dict[float, list[str]] = {}
    for part in design.parts:
        for feature in part.features:
            if len(feature.size) == 1:
                size = feature.size[0]
                counts[size] += part.quantity
                words = uses.setdefault(size, [])
                word = feature.purpose.partition(",")[0]
                if word not in words:
                    words.append(word)
    return [
        [hole_size(size, units), str(counts[size]), "; ".join(uses[size])]
        for size in sorted(counts)
    ]
