"""Names that a job may use: those that every release keeps, and those that the shop has."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.model.catalogue import Thing

__all__ = ["KEPT_MATERIALS", "KEPT_RULES", "KnownNames"]

#: Rule sets that every release keeps.
KEPT_RULES = (
    "light-envelope",
    "au-light",
    "au",
    "us-393",
    "us-393-wll",
    "ca-qc",
    "en-12195",
    "vdi-2000",
    "vdi-3500",
)
#: Materials that every release keeps; plain ``ply`` is unknown and non-structural.
KEPT_MATERIALS = tuple(
    f"{family}-{nominal}"
    for family in ("ply", "birch", "softwood", "hardwood", "poplar")
    for nominal in (6, 9, 12, 15, 18, 21)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownNames:
    """Every name that answers to something; an empty tuple means "not checked".

    Attributes:
        materials: Sheet materials.
        runners: Runner families, ``auto`` apart.
        saws: Ways of cutting.
        finishes: Finishes.
        rules: Sets of restraint accelerations.
        latches: Latches and locks bought by name.
        things: Generic things to carry; empty for those of the shipped catalogue.
        straps: Straps bought by name.
        thicknesses: Mean thickness of each sheet material. [mm]
    """

    materials: tuple[str, ...] = ()
    runners: tuple[str, ...] = ()
    saws: tuple[str, ...] = ()
    finishes: tuple[str, ...] = ()
    rules: tuple[str, ...] = KEPT_RULES
    latches: tuple[str, ...] = ()
    things: tuple[Thing, ...] = ()
    straps: tuple[str, ...] = ()
    thicknesses: tuple[tuple[str, float], ...] = ()
