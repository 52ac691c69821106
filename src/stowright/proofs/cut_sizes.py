"""Parts that are cut against what the plan asks for now: readings taken since may have moved it."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.judge import About, complete

__all__ = ["cut_size_findings"]

#: A saw cuts to this (common practice: panels +/- 0.5). [mm]
_SAWN = 0.5
_NEAR = 1.0e-6


def cut_size_findings(design: Design) -> Iterator[Finding]:
    """Yield whether every part that is cut, and its size told, is what the plan asks for."""
    told = [(part.mark, part.size) for stage in design.job.done for part in stage.parts]
    sizes = [(mark, size) for mark, size in told if size is not None]
    if not sizes:
        return
    parts = {part.mark: part for part in design.parts}
    lines, off = [], []
    for mark, size in sizes:
        part = parts.get(mark)
        if part is None:
            continue
        asked = (part.length, part.width)
        line = (
            f"{mark} {part.name}: cut {size[0]:g} x {size[1]:g}, planned {asked[0]:g} x "
            f"{asked[1]:g} mm"
        )
        lines.append(line)
        apart = [cut - plan for cut, plan in zip(size[:2], asked, strict=True)]
        if any(abs(each) > _SAWN + _NEAR for each in apart):
            by = ", ".join(f"{each:+.1f}" for each in apart)
            off.append(f"{line}: {by} mm")
    yield complete(
        About(
            id="CUT-SIZE:parts",
            title="Parts that are cut are the size that the plan asks for now",
            about="parts",
            family=3,
            source="the plan's sums with every reading in them; a saw cuts to 0.5 mm (common "
            "practice)",
            standing="common practice",
            load_case="after the last reading",
            working=tuple(lines),
        ),
        missing=tuple(off),
        advice=(
            "stowright refit: it keeps what still serves, and says which parts are cut new",
            "or name a part that no longer serves as [[spoiled]] and take it out of [[done]]",
        ),
    )
