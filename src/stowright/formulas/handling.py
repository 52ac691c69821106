"""UK HSE filters for lifting, pushing and pulling (INDG143, L23): they trigger an assessment."""

from __future__ import annotations

from typing import Final, Literal

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "FILTER_KG",
    "SOURCES",
    "Person",
    "Reach",
    "Zone",
    "lift_filter_kg",
    "lift_rate_factor",
    "push_filter_n",
    "team_filter_kg",
    "twist_factor",
    "zone_at_height",
]

type Zone = Literal["above shoulder", "shoulder", "elbow", "knuckle", "lower leg"]
type Reach = Literal["close", "arm's length"]
type Person = Literal["man", "woman"]

# Zones from the top down: at shoulder, elbow, knuckle and mid lower leg height.
FILTER_KG: Final[dict[Reach, dict[Zone, dict[Person, float]]]] = {
    "close": {
        "above shoulder": {"man": 10.0, "woman": 7.0},
        "shoulder": {"man": 20.0, "woman": 13.0},
        "elbow": {"man": 25.0, "woman": 16.0},
        "knuckle": {"man": 20.0, "woman": 13.0},
        "lower leg": {"man": 10.0, "woman": 7.0},
    },
    "arm's length": {
        "above shoulder": {"man": 5.0, "woman": 3.0},
        "shoulder": {"man": 10.0, "woman": 7.0},
        "elbow": {"man": 15.0, "woman": 10.0},
        "knuckle": {"man": 10.0, "woman": 7.0},
        "lower leg": {"man": 5.0, "woman": 3.0},
    },
}
# Lower ends of the zones above the ground for a person of usual build [mm]; a judgement.
_ZONE_FLOOR_MM: Final[tuple[tuple[float, Zone], ...]] = (
    (1400.0, "above shoulder"),
    (1050.0, "shoulder"),
    (750.0, "elbow"),
    (400.0, "knuckle"),
    (0.0, "lower leg"),
)

_FILTER: Final = Source(
    text="HSE INDG143 / L23 lifting filter, close to the body; arm's length from memory",
    standing="public restatement",
)
SOURCES: Final = {
    "lift_filter_kg": _FILTER,
    "lift_rate_factor": Source(text="HSE L23, reductions of the filter", standing="published"),
    "twist_factor": Source(text="HSE L23, reductions of the filter", standing="published"),
    "push_filter_n": Source(text="HSE push and pull filter, older edition", standing="published"),
    "team_filter_kg": Source(
        text="HSE L23: a team of two two thirds, of three half of what they lift singly",
        standing="from memory",
    ),
    "zone_at_height": Source(text="zone heights of a person of usual build", standing="judgement"),
}


def zone_at_height(*, height_mm: float) -> Zone:
    """Return the zone of the filter in which hands at a height above the ground lie.

    Source: heights of a person of usual build. Standing: judgement.

    Raises:
        OutOfRangeError: If the height is negative.
    """
    require_not_negative(height_mm=height_mm)
    return next(zone for floor_mm, zone in _ZONE_FLOOR_MM if height_mm >= floor_mm)


def lift_filter_kg(*, zones: tuple[Zone, ...], reach: Reach, person: Person) -> float:
    """Return the mass at which a lift calls for an assessment. [kg].

    The least of the zones that the hands pass through. Close to the body: restated; at arm's
    length: from memory.

    Source: HSE INDG143 / L23. Standing: public restatement.
    """
    table = FILTER_KG[reach]
    return min(table[zone][person] for zone in zones)


def team_filter_kg(*, filters_kg: tuple[float, ...]) -> float:
    """Return the mass at which a lift by one to three people calls for an assessment. [kg].

    One: his own; two: two thirds of the sum; three: half of the sum.

    Source: HSE L23. Standing: from memory.

    Raises:
        OutOfRangeError: If there is nobody, there are more than three, or a filter is not above
            zero.
    """
    shares = {1: 1.0, 2: 2.0 / 3.0, 3: 0.5}
    people = len(filters_kg)
    if people not in shares:
        raise OutOfRangeError("people", people, "one to three")
    require_positive(**{f"filter_{n}": kg for n, kg in enumerate(filters_kg)})
    return shares[people] * sum(filters_kg)


def lift_rate_factor(*, lifts_per_min: float) -> float:
    """Return what repeated lifting leaves of the filter. [-].

    0.7 at 1 to 2 a minute, 0.5 at 5 to 8, 0.2 above 12; what lies between these bands takes the
    lower value.

    Source: HSE L23. Standing: published.

    Raises:
        OutOfRangeError: If the rate is negative.
    """
    require_not_negative(lifts_per_min=lifts_per_min)
    if lifts_per_min > 8.0:
        return 0.2
    if lifts_per_min > 2.0:
        return 0.5
    return 0.7 if lifts_per_min >= 1.0 else 1.0


def twist_factor(*, twist_deg: float) -> float:
    """Return what twisting leaves of the filter. [-].

    0.9 beyond 45 degrees, 0.8 beyond 90.

    Source: HSE L23. Standing: published.

    Raises:
        OutOfRangeError: If the angle is negative.
    """
    require_not_negative(twist_deg=twist_deg)
    if twist_deg > 90.0:
        return 0.8
    return 0.9 if twist_deg > 45.0 else 1.0


def push_filter_n(*, person: Person, moving: bool) -> float:
    """Return the push or pull at which an assessment is called for. [N].

    To start or stop 20 / 15 kgf, to keep moving 10 / 7 kgf (man / woman); hands between knuckle and
    shoulder, less than 20 m.

    Source: HSE push and pull filter, older edition. Standing: published.
    """
    starting_kgf = {"man": 20.0, "woman": 15.0}
    rolling_kgf = {"man": 10.0, "woman": 7.0}
    return 9.81 * (rolling_kgf if moving else starting_kgf)[person]
