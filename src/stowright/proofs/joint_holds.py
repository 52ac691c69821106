"""What a joint of the design holds with: its screws, its glue, or what it bears on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from stowright.formulas.ec5_design import Duration
from stowright.formulas.restraint import RuleSet
from stowright.model.catalogue import Screw
from stowright.model.finding import Finding
from stowright.model.part import Joint, PlacedFixing, PlacedPart
from stowright.proofs.basis import Capacity, Load, held, sheet_strength
from stowright.proofs.index import Index
from stowright.proofs.judge import About, not_proved
from stowright.proofs.screw_groups import screws_held
from stowright.proofs.screws import ScrewHold, glue_capacity, pull_through, pulled, sideways
from stowright.proofs.tab_holds import tab_capacity, tab_root_mm2

__all__ = [
    "JointSide",
    "bearing_capacity",
    "glued_area",
    "let_in",
    "pulled_apart",
    "sheared",
    "side_of",
    "sideways_of",
]

_LET_IN = frozenset({"rebate", "housing", "groove"})
_BETTER = {"pass": 0, "warn": 1, "not proved": 2, "fail": 3}


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSide:
    """The screws of one joint: what they pass through and what they hold in."""

    screw: Screw
    count: int
    head: PlacedPart
    point: PlacedPart
    head_mm: float
    point_mm: float
    into_edge: bool


def let_in(joint: Joint) -> bool:
    """Say whether one part is let into the other, so that it bears on it."""
    return joint.kind in _LET_IN


def side_of(index: Index, joint: Joint) -> JointSide | None:
    """Return the screws of a joint, or None when it has none."""
    screws = [each for each in index.fixings.get(joint.id, []) if each.kind == "screw"]
    if not screws:
        return None
    first = screws[0]
    ends = [index.pieces[name] for name in first.joins if name in index.pieces]
    if len(ends) < 2:
        return None
    head, point = ends[0], ends[-1]
    through = head.thickness if _along_thickness(head, first) else 0.0
    screw = index.catalogue.screw(first.type)
    return JointSide(
        screw=screw,
        count=len(screws),
        head=head,
        point=point,
        head_mm=max(through, 1.0),
        point_mm=max(screw.length - through, 1.0),
        into_edge=not _along_thickness(point, first),
    )


def _along_thickness(piece: PlacedPart, fixing: PlacedFixing) -> bool:
    return abs(sum(a * d for a, d in zip(piece.axes[2], fixing.direction, strict=True))) > 0.5


def sideways_of(index: Index, side: JointSide, duration: Duration = "instantaneous") -> ScrewHold:
    """Return what one screw of a joint holds when its parts are pushed along each other."""
    return sideways(
        side.screw,
        head=index.material(side.head),
        head_mm=side.head_mm,
        point=index.material(side.point),
        point_mm=side.point_mm,
        into_edge=side.into_edge,
        service_class=index.service_class,
        duration=duration,
    )


def glued_area(index: Index, joint: Joint) -> float:
    """Return the face that two joined pieces share, zero when they only meet at a line. [mm2].

    Of a joint with tabs its shoulders alone count.
    """
    one, two = (index.boxes[name] for name in joint.parts if name in index.boxes)
    overlaps = sorted(
        max(0.0, over)
        for over in (one.x.overlap(two.x), one.y.overlap(two.y), one.z.overlap(two.z))
    )
    return max(overlaps[1] * overlaps[2] - tab_root_mm2(index, joint), 0.0)


def sheared(
    index: Index,
    about: About,
    *,
    joints: list[Joint],
    loads: Iterable[Load],
    duration: Duration = "instantaneous",
    rules: RuleSet | None = None,
) -> Finding:
    """Return the finding of like joints that share a shear: by glue, by screws or by tabs.

    Where more than one is there, the best carries and the others only clamp or spare.
    """
    rows = tuple(loads)
    found: dict[str, Finding] = {}
    area = sum(glued_area(index, joint) for joint in joints if joint.glued)
    if area > 0.0:
        sheets = tuple(
            index.material(index.pieces[name]) for joint in joints for name in joint.parts
        )
        glue = glue_capacity(area_mm2=area, sheets=sheets, service_class=index.service_class)
        found["glue"] = held(about, loads=rows, capacity=glue, rules=rules)
    sides = [side for joint in joints if (side := side_of(index, joint)) is not None]
    if sides:
        weakest = min(
            (sideways_of(index, side, duration) for side in sides),
            key=lambda hold: hold.counted.value,
        )
        found["screws"] = screws_held(
            about,
            loads=rows,
            hold=weakest,
            count=sum(side.count for side in sides),
            name=sides[0].screw.name,
            rules=rules,
        )
    tabs = tab_capacity(index, joints, duration=duration)
    if tabs is not None:
        found["tabs"] = held(about, loads=rows, capacity=tabs, rules=rules)
    return _best(about, found)


def _best(about: About, found: dict[str, Finding]) -> Finding:
    """Return the finding of what holds best; what the others would do alone is told, not added."""
    if not found:
        return not_proved(about, needs=("glue or screws in this joint",))
    name = min(found, key=lambda n: (_BETTER[found[n].status], found[n].utilisation or 0.0))
    best = found[name]
    if len(found) == 1:
        return best
    alone = ", ".join(f"{n} alone: {_used(each)}" for n, each in found.items() if n != name)
    names = " and ".join((", ".join([*found][:-1]), [*found][-1]))
    return replace(best, working=(*best.working, f"{alone}; {names} are not added"))


def _used(found: Finding) -> str:
    return f"{found.utilisation:.2f}" if found.utilisation is not None else "not proved"


def pulled_apart(
    index: Index,
    about: About,
    *,
    joints: list[Joint],
    loads: Iterable[Load],
    duration: Duration = "instantaneous",
    rules: RuleSet | None = None,
) -> list[Finding]:
    """Return the findings of joints that are pulled apart: thread, head, or glue where glued."""
    rows = tuple(loads)
    area = sum(glued_area(index, joint) for joint in joints if joint.glued)
    sides = [side for joint in joints if (side := side_of(index, joint)) is not None]
    if area > 0.0:
        sheets = tuple(
            index.material(index.pieces[name]) for joint in joints for name in joint.parts
        )
        glue = glue_capacity(area_mm2=area, sheets=sheets, service_class=index.service_class)
        return [held(about, loads=rows, capacity=glue, rules=rules)]
    if not sides:
        return [not_proved(about, needs=("glue or screws in this joint",))]
    count = sum(side.count for side in sides)
    one = sides[0]
    thread = pulled(
        one.screw,
        sheet=index.material(one.point),
        point_mm=one.point_mm,
        into_edge=one.into_edge,
        service_class=index.service_class,
        duration=duration,
    )
    head = pull_through(
        one.screw,
        sheet=index.material(one.head),
        sheet_mm=one.head_mm,
        service_class=index.service_class,
        duration=duration,
    )
    return [
        screws_held(
            replace(about, load_case=f"{about.load_case}: {word}"),
            loads=rows,
            hold=hold,
            count=count,
            name=one.screw.name,
            rules=rules,
        )
        for word, hold in (
            ("thread pulled out", thread),
            ("head pulled through", ScrewHold(clause=None, counted=head, outside=())),
        )
    ]


def bearing_capacity(index: Index, piece: PlacedPart, *, area_mm2: float) -> Capacity:
    """Return what an edge let into a piece bears on, in the plane of that piece. [N]."""
    row = index.material(piece)
    strength = sheet_strength(
        row,
        strength=row.f_compression,
        duration="instantaneous",
        service_class=index.service_class,
    )
    value = area_mm2 * strength.value
    return replace(
        strength,
        value=value,
        unit="N",
        working=(
            *strength.working,
            (
                f"bears in the let-in: A f_c = {area_mm2:.0f} mm² x {strength.value:.1f} N/mm² = "
                f"{value:.0f} N"
            ),
        ),
    )
