"""Runners as they are bought: one row a type, one size a length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.model.origin import Origin

__all__ = ["Runner", "RunnerHole", "RunnerSize", "SideSpace"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SideSpace:
    """Space a runner needs between drawer side and upright, each side. [mm]."""

    least: float
    aim: float
    most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerHole:
    """A fixing hole of a runner's member.

    Attributes:
        member: ``cabinet`` or ``drawer``.
        at: Distance from the runner's face end. [mm]
        up: Distance above the runner's centre line (negative below). [mm]
        kind: ``slot`` (first, adjustable) or ``round`` (after the run test).
    """

    member: Literal["cabinet", "drawer"]
    at: float
    up: float
    kind: Literal["slot", "round"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerSize:
    """One length of a runner.

    Attributes:
        length: Closed length. [mm]
        travel: How far it extends. [mm]
        rating_kg: Rating per pair on the family's basis. [kg]
        mass: Mass per pair. [kg]
        holes: Hole pattern.
        price: The shop's price per pair, or None.
        overlap: Overlap left when this length is fully open; 0 means the family's. [mm]
    """

    length: float
    travel: float
    rating_kg: float
    mass: float
    holes: tuple[RunnerHole, ...]
    price: float | None
    overlap: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Runner:
    """A family of drawer runners.

    Attributes:
        name: Generic name: ``heavy-76-lock-in-out``.
        section: Height of the section. [mm]
        thickness: Thickness of the closed runner. [mm]
        side_space: Space needed each side.
        set_back: The runner's own set-back from the face edge it starts at. [mm]
        overlap: Overlap left when fully open. [mm]
        droop: Drop of the front at full extension, per mm of extension. [mm/mm]
        lateral_rating_n: Stated sideways rating, or None. [N]
        stop_n: What the shut stops of a pair are stated to take towards the back, or None. [N]
        lever: Envelope (across, up, along) of a release lever at the front, None without one. [mm]
        lock_in, lock_out: Whether it locks shut and fully open.
        flange: Thickness of the member's flange behind the screw head. [mm]
        screw: Fixing wanted, a name in the catalogue.
        mount: ``side`` or ``flat``.
        basis: What the rating was measured on (length, width, cycles, mounting), in words.
        vehicle_rated: True when the rating already carries a vehicle factor.
        sizes: The lengths, shortest first.
        basis_length: Length that the rating was taken on, None when each was by itself. [mm]
        lock_n: Holding force of one runner's lock on an allowable basis, None when there is no
            lock or no figure. [N]
    """

    name: str
    section: float
    thickness: float
    side_space: SideSpace
    set_back: float
    overlap: float
    droop: float
    lateral_rating_n: float | None
    lever: tuple[float, float, float] | None
    lock_in: bool
    lock_out: bool
    flange: float
    screw: str
    mount: Literal["side", "flat"]
    basis: str
    vehicle_rated: bool
    sizes: tuple[RunnerSize, ...]
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    lock_n: float | None = None
    stop_n: float | None = None
    basis_length: float | None = None
