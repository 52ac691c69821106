"""What each hold-down bolt sees, in every direction of a rule set, empty and loaded.

The body is stiff. It slides: the bolts share the push and its turn about their middle, half of
them counted because holes are clearance holes. It tips about its outer lower edge on the side it is
thrown to: the bolts are pulled in proportion to their distance from that edge. Friction and preload
are not counted. A factor on the demand goes on the accelerations; the weight that holds the body
down is never increased.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from stowright.errors import OutOfRangeError
from stowright.formulas.anchorage import (
    BoltShear,
    bolt_group_shears_n,
    elastic_bolt_tensions_n,
    net_overturning_moment_n_mm,
    tip_threshold,
)
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import RuleSet
from stowright.model.geometry import Point2
from stowright.proofs.restraint_bodies import StandingBody, Weight

__all__ = ["SHARING", "WAYS", "Case", "Forces", "Group", "Way", "cases_of", "group_of"]

type Way = Literal["forward", "rearward", "left", "right"]

#: Bolts stand in clearance holes: this part of them is taken to share the push (cautious option).
SHARING = 0.5
#: Each way with the axis it runs along and the sign on it.
WAYS: tuple[tuple[Way, int, float], ...] = (
    ("forward", 0, 1.0),
    ("rearward", 0, -1.0),
    ("left", 1, 1.0),
    ("right", 1, -1.0),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One case of a rule set: which way, how hard, lifted or not, with or without contents."""

    way: Way
    push: float
    lift: float
    loaded: bool

    @property
    def text(self) -> str:
        """The case in words."""
        lifted = f", {self.lift:g} g up" if self.lift else ""
        return f"{self.push:g} g {self.way}{lifted}, {'loaded' if self.loaded else 'empty'}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Forces:
    """What a case does to the bolts, at one factor on the accelerations. [N, N mm].

    Attributes:
        push_n: Sideways force on the body.
        over_n_mm, back_n_mm: Moments that tip it and keep it down.
        net_n_mm: What is left for the bolts.
        shears: Sideways force of each bolt.
        pulls: Pull on each bolt; infinite where no bolt can hold the moment.
    """

    push_n: float
    over_n_mm: float
    back_n_mm: float
    net_n_mm: float
    shears: tuple[float, ...]
    pulls: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A body on a set of bolts, with the answers to unit pushes worked out once.

    Attributes:
        spots: Where the bolts are. [mm]
        shear_of: By (axis, loaded): each bolt's sideways force under a push of 1 N.
        arms_of: By way: distance of each bolt from the edge the body tips about. [mm]
        pull_of: By way: each bolt's pull under a moment of 1 N mm; empty when none can hold it.
    """

    body: StandingBody
    spots: tuple[Point2, ...]
    shear_of: dict[tuple[int, bool], tuple[float, ...]]
    arms_of: dict[Way, tuple[float, ...]]
    pull_of: dict[Way, tuple[float, ...]]

    def weight(self, *, loaded: bool) -> Weight:
        """Return mass and centre in a state."""
        return self.body.loaded if loaded else self.body.empty

    def arm(self, way: Way, *, loaded: bool) -> float:
        """Return how far the centre is from the edge that the body tips about. [mm]."""
        _, axis, sign = next(row for row in WAYS if row[0] == way)
        at = self.weight(loaded=loaded).centre[axis]
        return max(0.0, sign * (_edge(self.body, axis, sign) - at))

    def height(self, *, loaded: bool) -> float:
        """Return the height of the centre above that edge. [mm]."""
        return max(0.0, self.weight(loaded=loaded).centre[2] - self.body.pivot_z)

    def forces(self, case: Case, *, factor: float) -> Forces:
        """Return what each bolt sees, accelerations multiplied by a factor."""
        axis = 0 if case.way in {"forward", "rearward"} else 1
        mass = self.weight(loaded=case.loaded).mass
        push, lift = factor * case.push, factor * case.lift
        height, arm = self.height(loaded=case.loaded), self.arm(case.way, loaded=case.loaded)
        net = net_overturning_moment_n_mm(
            mass_kg=mass, push=push, height_mm=height, arm_mm=arm, lift=lift
        )
        weight_n = mass * GRAVITY_M_S2
        push_n = push * weight_n
        units = self.pull_of[case.way]
        pulls = tuple(net * unit for unit in units) if units else (_stuck(net),) * len(self.spots)
        return Forces(
            push_n=push_n,
            over_n_mm=push_n * height,
            back_n_mm=(1.0 - lift) * weight_n * arm,
            net_n_mm=net,
            shears=tuple(push_n * unit for unit in self.shear_of[axis, case.loaded]),
            pulls=pulls,
        )


def _stuck(net: float) -> float:
    return float("inf") if net > 0.0 else 0.0


def _edge(body: StandingBody, axis: int, sign: float) -> float:
    span = (body.x, body.y)[axis]
    return span.high if sign > 0.0 else span.low


def group_of(body: StandingBody, spots: Sequence[Point2]) -> Group | None:
    """Return a body on its bolts; None when they cannot stop it from turning on the floor."""
    if not spots:
        return None
    try:
        shear_of = {
            (axis, loaded): _unit_shears(body, spots, axis, loaded=loaded)
            for axis in (0, 1)
            for loaded in (False, True)
        }
    except OutOfRangeError:
        return None
    arms_of = {
        way: tuple(max(0.0, sign * (_edge(body, axis, sign) - spot[axis])) for spot in spots)
        for way, axis, sign in WAYS
    }
    return Group(
        body=body,
        spots=tuple(spots),
        shear_of=shear_of,
        arms_of=arms_of,
        pull_of={way: _unit_pulls(arms) for way, arms in arms_of.items()},
    )


def _unit_shears(
    body: StandingBody, spots: Sequence[Point2], axis: int, *, loaded: bool
) -> tuple[float, ...]:
    centre = (body.loaded if loaded else body.empty).centre
    found: tuple[BoltShear, ...] = bolt_group_shears_n(
        bolts_mm=spots,
        force_x_n=1.0 if axis == 0 else 0.0,
        force_y_n=1.0 if axis == 1 else 0.0,
        at_x_mm=centre[0],
        at_y_mm=centre[1],
        sharing=SHARING,
    )
    return tuple(row.resultant_n for row in found)


def _unit_pulls(arms: tuple[float, ...]) -> tuple[float, ...]:
    if not any(arm > 0.0 for arm in arms):
        return ()
    return elastic_bolt_tensions_n(moment_n_mm=1.0, distances_mm=arms)


def cases_of(rules: RuleSet, group: Group) -> Iterator[Case]:
    """Yield every case of a rule set: four ways, with and without lift, empty and loaded."""
    for loaded in (False, True):
        for way, _, _ in WAYS:
            push = _push(rules, way, group, loaded=loaded)
            for lift in dict.fromkeys((0.0, rules.up)):
                yield Case(way=way, push=push, lift=lift, loaded=loaded)


def _push(rules: RuleSet, way: Way, group: Group, *, loaded: bool) -> float:
    if way == "forward":
        return rules.forward
    if way == "rearward":
        return rules.rear
    height = group.height(loaded=loaded)
    arm = group.arm(way, loaded=loaded)
    tips = height > 0.0 and tip_threshold(arm_mm=arm, height_mm=height) < rules.side_if_tippable
    return rules.side_if_tippable if tips else rules.side
