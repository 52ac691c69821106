"""A module that passes no doorway whole: its parts get in, and it can be put together inside.

A fitter screws a carcass from outside, so it is put together either upright, with room for a drill
beside it, and pushed into its place; or on its back and stood up, which takes its diagonal. What
could be ordered instead is tried: less of it at a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import hypot

from stowright.design.doorway import building_room, doorway_check
from stowright.model.design import BlockDesign, Design, ModuleDesign
from stowright.model.finding import Finding
from stowright.model.geometry import Box, Span
from stowright.proofs.judge import About, clearance, not_proved

__all__ = ["built_inside"]

#: Room beside a carcass for a drill and a hand (common practice). [mm]
DRILL = 250.0
_DOORWAY = "bay.opening: width and height of the doorway, lengths"


def built_inside(
    design: Design, block: BlockDesign, module: ModuleDesign, about: About
) -> Iterator[Finding]:
    """Yield whether each part passes a doorway flat, and whether the module can be built inside."""
    whole = module.doorway
    pieces = [
        piece
        for piece in design.placed
        if (piece.block, piece.module, piece.body) == (block.name, module.name, "fixed")
    ]
    widest = max(pieces, key=lambda piece: min(piece.length, piece.width), default=None)
    if widest is None or whole is None:
        yield not_proved(about, needs=(_DOORWAY,))
        return
    error = design.job.bay.reading_error
    have, where = max(
        (max(opening.width, opening.height or 0.0) - error, opening.face)
        for opening in design.job.bay.openings
    )
    need = min(widest.length, widest.width)
    less = tuple(_smaller(design, block, module))
    yield clearance(
        replace(
            about,
            load_case="carried in as panels, assembled inside",
            working=(
                f"in one piece: needs {whole.needed:.1f} mm, there are {whole.available:.1f} mm",
                (
                    f"as panels, end first: the widest part, {widest.mark}, is {need:.1f} mm wide,"
                    f" the {where} doorway's greater side less the reading error {have:.1f} mm"
                ),
                *about.working,
            ),
        ),
        needed=need,
        available=have,
        reading_error=error,
        advice=(*less, "or split that part, or a narrower module"),
    )
    yield _put_together(design, block, module, less)


def _put_together(
    design: Design, block: BlockDesign, module: ModuleDesign, less: tuple[str, ...]
) -> Finding:
    """Return the finding about room to put a module together and to stand it up."""
    standing = tuple(
        other.box
        for each in design.blocks
        for other in each.modules
        if other is not module and other.box.x.low >= module.box.x.high - 1.0
    )
    width, height = building_room(bay=design.job.bay, module_box=module.box, standing=standing)
    across, tall, deep = module.box.y.size, module.box.z.size, module.depth
    diagonal = hypot(tall, deep)
    upright = ("upright, with a drill beside it: width", across + DRILL, width)
    if tall > height:
        upright = ("upright: height", tall, height)
    lying = ("on its back, then stood up: its diagonal", diagonal, height)
    words, needed, available = max((upright, lying), key=lambda way: way[2] - way[1])
    return clearance(
        About(
            id=f"BUILT-INSIDE:{block.name}/{module.name}",
            title=f"{block.name}, module {module.name}, can be put together inside",
            about=block.name,
            family=1,
            source=f"geometry; {DRILL:g} mm for a drill beside a carcass (common practice)",
            standing="common practice",
            load_case=words,
            working=(
                "it passes no doorway whole: it is built inside, and comes out the same way",
                (
                    f"upright: {across:.0f} + {DRILL:g} mm wide, free {width:.0f}; {tall:.0f} mm "
                    f"high, free {height:.0f}"
                ),
                (
                    f"on its back: diagonal sqrt({tall:.0f}² + {deep:.0f}²) = {diagonal:.0f} mm, "
                    f"free {height:.0f} mm high"
                ),
            ),
        ),
        needed=needed,
        available=available,
        reading_error=design.job.bay.reading_error,
        advice=less or ("a lower or narrower module: none that was tried passes whole",),
    )


def _smaller(design: Design, block: BlockDesign, module: ModuleDesign) -> Iterator[str]:
    """Yield what passes whole instead, tried: modules a column each, bodies one on the other."""
    columns = len({o.column for o in block.openings if o.module == module.name})
    for wide, high in ((columns, 1), (1, 2), (columns, 2), (1, 3), (columns, 3)):
        if wide * high == 1:
            continue
        part = replace(module.box, z=_share(module.box.z, high))
        if block.face == "tail":
            part = replace(part, y=_share(part.y, wide))
        else:
            part = replace(part, x=_share(part.x, wide))
        if _passes(design, block, part):
            yield _split(block, module.box, part, wide, high)
            return


def _split(block: BlockDesign, box: Box, part: Box, wide: int, high: int) -> str:
    """Return a way to split a module, with the size of each piece that passes whole."""
    found = []
    if wide > 1:
        found.append('modules = "separate"')
    if high > 1:
        step = part.z.size
        ranges = ", ".join(
            f"z = [{box.z.low + n * step:.0f}, {box.z.low + (n + 1) * step:.0f}]"
            for n in range(high)
        )
        found.append(f"{high} blocks one on the other ({ranges}), bolted together")
    width = part.y.size if block.face == "tail" else part.x.size
    each = f"each {width:.0f} mm wide and {part.z.size:.0f} mm high passes the doorway whole"
    return f"{' and '.join(found)}: {each}"


def _share(span: Span, count: int) -> Span:
    return Span(low=span.low, high=span.low + span.size / count)


def _passes(design: Design, block: BlockDesign, box: Box) -> bool:
    found = doorway_check(
        bay=design.job.bay, block=block.name, module="part", face=block.face, module_box=box
    )
    return found.way in {"straight", "tilted", "from above"}
