"""In which order modules are carried into the bay: what stands furthest in goes first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stowright.model.design import BlockDesign, ModuleDesign
from stowright.model.geometry import Box

__all__ = ["carried_in", "carry_order", "further_in", "inside_warnings"]


def carried_in(modules: tuple[ModuleDesign, ...]) -> tuple[ModuleDesign, ...]:
    """Return the modules in the order they are carried in: from the cab on, the lower ones first.

    A body that stands on another waits for it wherever it stands.
    """
    return tuple(sorted(modules, key=lambda m: (_raised(m, modules), -m.box.x.low, m.box.z.low)))


def _raised(module: ModuleDesign, modules: tuple[ModuleDesign, ...]) -> bool:
    return any(
        other.box.z.high <= module.box.z.low + 1.0
        and other.box.x.overlap(module.box.x) > 1.0
        and other.box.y.overlap(module.box.y) > 1.0
        for other in modules
    )


def further_in(module: ModuleDesign, order: tuple[ModuleDesign, ...]) -> tuple[Box, ...]:
    """Return what stands already, and further in, when a module is carried in."""
    before = order[
        : next(i for i, m in enumerate(order) if (m.block, m.name) == (module.block, module.name))
    ]
    return tuple(m.box for m in before if m.box.x.low >= module.box.x.high - 1.0)


def inside_warnings(blocks: Iterable[BlockDesign]) -> Iterator[str]:
    """Yield a line for every carcass that passes no doorway whole."""
    for block in blocks:
        for module in block.modules:
            if module.doorway is not None and module.doorway.way == "assemble inside":
                yield (
                    f"{block.name}, module {module.name}, passes no doorway whole: it is carried "
                    "in as panels, put together inside, and comes out the same way"
                )


def carry_order(order: tuple[ModuleDesign, ...]) -> tuple[str, ...]:
    """Return the order in a line, where several blocks make it matter."""
    if len({module.block for module in order}) < 2:
        return ()
    names = ", ".join(f"{module.block} {module.name}" for module in order)
    return (f"carry in, what stands furthest in first: {names}",)
