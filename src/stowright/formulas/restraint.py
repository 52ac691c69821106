"""Load restraint: the accelerations that each rule set asks a load to be held against.

Each is a fraction of g, applied one direction at a time, at driving level: heavy braking,
cornering, pulling away. None of them is a crash or an approval check.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Final, Literal

from stowright.errors import BasisMixError, UnknownNameError, require_not_negative
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.sources import Source

__all__ = [
    "CRASH_INFORMATION",
    "DEFAULT_RULE_SET",
    "DIRECTIONS",
    "RULE_SETS",
    "SOURCES",
    "CapacityBasis",
    "Direction",
    "RuleSet",
    "restraint_factor",
    "restraint_force_n",
    "rule_set",
]

type Direction = Literal["forward", "rear", "side", "up"]
type CapacityBasis = Literal["characteristic", "working load", "mean ultimate"]

DIRECTIONS: Final[tuple[Direction, ...]] = ("forward", "rear", "side", "up")
DEFAULT_RULE_SET: Final = "light-envelope"
# Crash-level fractions of g, information only: never a claim (equipment in ambulances, from memory;
# cargo barriers, quoted second hand).
CRASH_INFORMATION: Final = (10.0, 20.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSet:
    """One published (or chosen) set of restraint accelerations, as fractions of g.

    Attributes:
        name: The name in a job file; kept by every release.
        title: What it is, with what it is not.
        forward: Load thrown forward (braking).
        rear: Load thrown rearward (pulling away).
        side: Load thrown sideways (cornering).
        side_if_tippable: Sideways, where the load can tip over.
        up: Upward, where the load is not fully contained.
        working_load_only: True when the set may only be held against working-load values.
        demand_factor: Factor on the demand against the kind of value that the set is meant for.
        basis_note: Which values it is held against, in words.
        mass_above_kg: Vehicle masses (maximum laden) it is meant for: above this.
        mass_up_to_kg: And up to this; infinite when there is no upper end.
        mass_note: The same in words, with what is not covered.
        source: Where the numbers come from and how well they are known.
    """

    name: str
    title: str
    forward: float
    rear: float
    side: float
    side_if_tippable: float
    up: float
    working_load_only: bool
    demand_factor: float
    basis_note: str
    mass_above_kg: float
    mass_up_to_kg: float
    mass_note: str
    source: Source

    def fraction(self, direction: Direction) -> float:
        """Return the acceleration in a direction. [g]."""
        return {"forward": self.forward, "rear": self.rear, "side": self.side, "up": self.up}[
            direction
        ]

    def is_meant_for(self, *, vehicle_mass_kg: float) -> bool:
        """Say whether a vehicle of this maximum laden mass is in the set's range."""
        return self.mass_above_kg < vehicle_mass_kg <= self.mass_up_to_kg


_ANY: Final = float("inf")
_DESIGN: Final = "design values from characteristic resistances, demand x 1.5"
_WORKING: Final = "working-load values only, demand x 1.0"


def _title(what: str) -> str:
    """Return a rule set's title: what it is and what it is not."""
    return f"accelerations as in {what}, driving level; not a crash or approval check"


_SETS: Final = (
    RuleSet(
        name="light-envelope",
        title=_title("this program's envelope for light vehicles (an engineering choice)"),
        forward=0.9,
        rear=0.5,
        side=0.7,
        side_if_tippable=0.7,
        up=0.2,
        working_load_only=False,
        demand_factor=1.5,
        basis_note=_DESIGN,
        mass_above_kg=0.0,
        mass_up_to_kg=3500.0,
        mass_note="up to 3.5 t",
        source=Source(
            text="envelope of the sets in use for vehicles up to 3.5 t, an engineering choice",
            standing="judgement",
        ),
    ),
    RuleSet(
        name="au-light",
        title=_title("the NTC Load Restraint Guide for Light Vehicles 2018"),
        forward=0.8,
        rear=0.5,
        side=0.5,
        side_if_tippable=0.5,
        up=0.2,
        working_load_only=False,
        demand_factor=1.5,
        basis_note=_DESIGN,
        mass_above_kg=0.0,
        mass_up_to_kg=4500.0,
        mass_note="up to 4.5 t; up only if not fully contained",
        source=Source(
            text=(
                "NTC Load Restraint Guide for Light Vehicles 2018: scope and 4.5 t read, 80/50/20"
                " per cent rule restated"
            ),
            standing="public restatement",
        ),
    ),
    RuleSet(
        name="au",
        title=_title("the NTC Load Restraint Guide 2018"),
        forward=0.8,
        rear=0.5,
        side=0.5,
        side_if_tippable=0.5,
        up=0.2,
        working_load_only=False,
        demand_factor=1.5,
        basis_note=_DESIGN,
        mass_above_kg=0.0,
        mass_up_to_kg=_ANY,
        mass_note="any; up only if friction or limited vertical movement is relied on",
        source=Source(
            text="NTC Load Restraint Guide 2018, performance standards, on a training page",
            standing="public restatement",
        ),
    ),
    RuleSet(
        name="us-393",
        title=_title("US 49 CFR 393.102(a)(1) and (b)"),
        forward=0.8,
        rear=0.5,
        side=0.5,
        side_if_tippable=0.5,
        up=0.2,
        working_load_only=False,
        demand_factor=1.0,
        basis_note="stated against breaking strength, demand x 1.0",
        mass_above_kg=0.0,
        mass_up_to_kg=_ANY,
        mass_note="commercial motor vehicles as that rule defines them; up unless fully contained",
        source=Source(text="49 CFR 393.102(a)(1) and (b), rule text", standing="published"),
    ),
    RuleSet(
        name="us-393-wll",
        title=_title("US 49 CFR 393.102(a)(2) and (b), working load limits"),
        forward=0.435,
        rear=0.5,
        side=0.25,
        side_if_tippable=0.25,
        up=0.2,
        working_load_only=True,
        demand_factor=1.0,
        basis_note=_WORKING,
        mass_above_kg=0.0,
        mass_up_to_kg=_ANY,
        mass_note="commercial motor vehicles as that rule defines them; up unless fully contained",
        source=Source(text="49 CFR 393.102(a)(2) and (b), rule text", standing="published"),
    ),
    RuleSet(
        name="ca-qc",
        title=_title("Quebec C-24.2, r. 30, s. 3"),
        forward=0.8,
        rear=0.5,
        side=0.5,
        side_if_tippable=0.5,
        up=0.2,
        working_load_only=True,
        demand_factor=1.0,
        basis_note=_WORKING,
        mass_above_kg=0.0,
        mass_up_to_kg=_ANY,
        mass_note="vehicles that the regulation covers; up if not fully contained",
        source=Source(text="Quebec regulation C-24.2, r. 30, s. 3", standing="published"),
    ),
    RuleSet(
        name="en-12195",
        title=_title("EN 12195-1:2010, road"),
        forward=0.8,
        rear=0.5,
        side=0.5,
        side_if_tippable=0.6,
        up=0.0,
        working_load_only=False,
        demand_factor=1.5,
        basis_note=_DESIGN,
        mass_above_kg=3500.0,
        mass_up_to_kg=_ANY,
        mass_note=(
            "above 3.5 t only; at or below, a reference value: the standard's own note says that"
            " lighter vehicles can see more"
        ),
        source=Source(
            text="EN 12195-1:2010: scope from the catalogue, 0.8/0.5/0.5/0.6 restated",
            standing="public restatement",
        ),
    ),
    RuleSet(
        name="vdi-2000",
        title=_title("VDI 2700 Sheet 16, up to 2.0 t"),
        forward=0.9,
        rear=0.5,
        side=0.7,
        side_if_tippable=0.7,
        up=0.0,
        working_load_only=False,
        demand_factor=1.5,
        basis_note=_DESIGN,
        mass_above_kg=0.0,
        mass_up_to_kg=2000.0,
        mass_note="up to 2.0 t",
        source=Source(
            text="VDI 2700 Sheet 16, table in ESV paper 09-0008 (2009), Fig. 1",
            standing="public restatement",
        ),
    ),
    RuleSet(
        name="vdi-3500",
        title=_title("VDI 2700 Sheet 16, above 2.0 t up to 3.5 t"),
        forward=0.8,
        rear=0.5,
        side=0.6,
        side_if_tippable=0.6,
        up=0.0,
        working_load_only=False,
        demand_factor=1.5,
        basis_note=_DESIGN,
        mass_above_kg=2000.0,
        mass_up_to_kg=3500.0,
        mass_note=(
            "above 2.0 t up to 3.5 t; the paper's prose has 0.9 and 0.7 for this range: the safe"
            " reading is vdi-2000 for both"
        ),
        source=Source(
            text="VDI 2700 Sheet 16, table in ESV paper 09-0008 (2009), Fig. 1",
            standing="public restatement",
        ),
    ),
)
RULE_SETS: Final = {each.name: each for each in _SETS}

SOURCES: Final = {
    "rule_set": Source(text="the source of each set stands on the set", standing="derived"),
    "restraint_force_n": Source(text="F = a m g", standing="derived"),
    "restraint_factor": Source(
        text="EN 1990 factor on the demand, remembered; the rule sets' own bases",
        standing="from memory",
    ),
}


def rule_set(name: str) -> RuleSet:
    """Return a rule set by its name.

    Source: stands on each set. Standing: derived.

    Raises:
        UnknownNameError: If no set has that name, with the nearest ones.
    """
    if name not in RULE_SETS:
        near = tuple(difflib.get_close_matches(name, RULE_SETS, n=3))
        raise UnknownNameError("rule set", name, near or tuple(RULE_SETS))
    return RULE_SETS[name]


def restraint_force_n(*, mass_kg: float, fraction: float) -> float:
    """Return the force that a load has to be held with. [N].

    F = a m g, with a the fraction of g.

    Source: F = a m g. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative.
    """
    require_not_negative(mass_kg=mass_kg, fraction=fraction)
    return fraction * mass_kg * GRAVITY_M_S2


def restraint_factor(rules: RuleSet, *, capacity_basis: CapacityBasis) -> float:
    """Return the factor on a restraint demand that is held against a kind of capacity. [-].

    Characteristic (Eurocode) values: 1.5, or 1.0 for a set stated against breaking strength; sets
    meant for working loads are refused. Working-load and allowable values: 1.0. Mean ultimate
    values: refused; divide them first, and they are working values.

    Source: EN 1990 factors and the sets' own bases. Standing: from memory.

    Raises:
        BasisMixError: If the set may not be held against that kind of value.
    """
    if capacity_basis == "working load":
        return 1.0
    if capacity_basis == "mean ultimate":
        raise BasisMixError(rules.basis_note, "mean ultimate, not yet divided")
    if rules.working_load_only:
        raise BasisMixError(rules.basis_note, capacity_basis)
    return rules.demand_factor
