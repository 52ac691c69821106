"""How high a body has to stand to pass over the wheel arches under it, as a sum. Millimetres."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.bay_solid import ArchSolid, bay_solid
from stowright.design.bay_view import BEARER_ABOVE_ARCH
from stowright.design.context import Context
from stowright.design.sums import line, stated
from stowright.model.design import Sum, SumLine
from stowright.model.geometry import Box
from stowright.model.job import Block, Place
from stowright.units import snap_up, tidy

__all__ = ["Lift", "lift_of"]

#: A body that ends no further than this above the arches' clearance is the lower one of a pair:
#: the upper body stands on top of it (our choice). [mm]
_LOWER_ENDS_WITHIN = 200.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """Where a body over the arches starts.

    Attributes:
        low: Its underside above the load floor, on the cut grid. [mm]
        sum: The same as a sum.
        words: What governs: the arch's reading, the body below, or the asked range.
    """

    low: float
    sum: Sum
    words: str


def lift_of(context: Context, block: Block, standing: tuple[Box, ...]) -> Lift | None:
    """Return where a block with ``over_arches = "yes"`` starts, None where no arch is under it.

    The highest arch that its asked ranges reach counts; a lower body between the arches that ends
    a little above that, and an asked range that starts higher, raise it further.

    Args:
        context: The job.
        block: The block.
        standing: The carcasses that stand already.
    """
    bay, place = context.job.bay, block.place
    arches = [arch for arch in bay_solid(bay).arches if _under(arch, place)]
    if block.over_arches != "yes" or not arches:
        return None
    arch = max(arches, key=lambda each: each.height)
    words = f"{arch.side} arch: {arch.field}.height"
    terms = [
        line(words, arch.height),
        *((line("reading error", bay.reading_error),) if bay.reading_error else ()),
        line("kept above the arch", BEARER_ABOVE_ARCH),
    ]
    low = _total(terms)
    for top in sorted(box.z.high for box in standing if _below(box, low, place)):
        if top > low:
            words = "the body below it"
            terms.append(line("up to the top of the body below it", top - low))
            low = _total(terms)
    if place.z is not None and place.z[0] > low:
        words = "the asked range (block.place.z)"
        terms.append(line("up to where its range starts", place.z[0] - low))
    elif snap_up(low, context.grid) - low > 1.0e-9:
        terms.append(line("up to the cut grid", snap_up(low, context.grid) - low))
    total = stated(f"{block.name}: underside above the floor, over the arches", *terms)
    return Lift(low=total.result, sum=total, words=words)


def _total(terms: list[SumLine]) -> float:
    return tidy(sum(term.value for term in terms))


def _under(arch: ArchSolid, place: Place) -> bool:
    """Tell whether an arch of known height can come under a block with this place."""
    if not arch.height < float("inf"):
        return False
    if place.x is not None and not (arch.start < place.x[1] and arch.end > place.x[0]):
        return False
    if place.y is None:
        return True
    inner = min(value for level in arch.inner.levels for value in level.values)
    return place.y[1] > inner if arch.side == "left" else -place.y[0] > inner


def _below(box: Box, low: float, place: Place) -> bool:
    """Tell whether a standing body is the lower one of a pair with a body over the arches."""
    if place.beside or box.z.high > low + _LOWER_ENDS_WITHIN or box.z.low >= low:
        return False
    return all(
        asked is None or (span.low < asked[1] and span.high > asked[0])
        for asked, span in ((place.x, box.x), (place.y, box.y))
    )
