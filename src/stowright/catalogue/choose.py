"""Finding rows on the shelf."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.model.catalogue import (
    Adhesive,
    Bolt,
    Catalogue,
    Finish,
    Hardware,
    Material,
    Nut,
    Origin,
    Runner,
    Saw,
    Screw,
    StockSize,
    Thing,
    Washer,
)

__all__ = [
    "Fixings",
    "fixings_of",
    "known_names",
    "origin_of",
    "screws_of",
    "stock_sizes_of",
]

type CatalogueRow = (
    Material
    | StockSize
    | Runner
    | Screw
    | Bolt
    | Nut
    | Washer
    | Saw
    | Adhesive
    | Finish
    | Hardware
    | Thing
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixings:
    """Bolts, nuts and washers of one thread, in the order of the catalogue."""

    bolts: tuple[Bolt, ...]
    nuts: tuple[Nut, ...]
    washers: tuple[Washer, ...]


def origin_of(row: CatalogueRow, field: str) -> Origin:
    """Return where one field of a row comes from: its own origin, else the row's.

    Args:
        row: Any row of the catalogue.
        field: The field's name: ``f_along``.
    """
    return dict(row.origins).get(field, row.origin)


def known_names(catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """Return every row's name by table, in the catalogue's order."""
    return {
        table: tuple(row.name for row in getattr(catalogue, table)) for table in Catalogue.__slots__
    }


def stock_sizes_of(sizes: tuple[StockSize, ...], material: Material) -> tuple[StockSize, ...]:
    """Return the sheet sizes for a material, smallest area first.

    A row for the material itself (by name) takes the place of its family's row of the same size,
    so that a shop can price each thickness.

    Args:
        sizes: ``catalogue.stock_sizes`` (what is offered) or ``all_stock_sizes()``.
        material: The material.
    """
    found: dict[tuple[float, float], StockSize] = {}
    for owner in (material.family, material.name):
        found |= {(size.length, size.width): size for size in sizes if size.material == owner}
    return tuple(
        sorted(found.values(), key=lambda size: (size.length * size.width, size.length, size.name))
    )


def screws_of(
    catalogue: Catalogue, kind: str, *, least_diameter: float = 0.0, most_diameter: float = 1.0e6
) -> tuple[Screw, ...]:
    """Return the screws of a kind within a range of shank diameters, thinnest and shortest first.

    Args:
        catalogue: The shelf.
        kind: ``countersunk``, ``pan``, ``brad`` or ``self-drilling``.
        least_diameter: Least shank diameter. [mm]
        most_diameter: Greatest shank diameter. [mm]
    """
    found = [
        screw
        for screw in catalogue.screws
        if screw.kind == kind and least_diameter <= screw.diameter <= most_diameter
    ]
    return tuple(sorted(found, key=lambda screw: (screw.diameter, screw.length, screw.name)))


def fixings_of(catalogue: Catalogue, thread: str) -> Fixings:
    """Return the bolts, nuts and washers of a thread, ``M8``; all empty for an unknown one."""
    return Fixings(
        bolts=tuple(row for row in catalogue.bolts if row.thread == thread),
        nuts=tuple(row for row in catalogue.nuts if row.thread == thread),
        washers=tuple(row for row in catalogue.washers if row.thread == thread),
    )
