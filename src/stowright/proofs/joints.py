"""Joints: the bottom pushed off, the front pulled, shelves in their sides, cleats, distances."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from stowright.formulas.actions_en1990 import road_shock
from stowright.formulas.ec5_design import Duration
from stowright.formulas.platform_loads import PATCHES
from stowright.formulas.restraint import RuleSet
from stowright.model.design import BlockDesign, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.part import Joint, PlacedPart
from stowright.proofs.basis import Load, held, held_or_told, sheet_strength, worst
from stowright.proofs.deck_pieces import people_told
from stowright.proofs.edges import joined_edges
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.joint_holds import bearing_capacity, glued_area, let_in, pulled_apart, sheared
from stowright.proofs.judge import About, not_proved
from stowright.proofs.push import pushes
from stowright.proofs.screw_distances import distance_findings
from stowright.proofs.sheets import Sheet, self_weight_n_mm2
from stowright.proofs.shelves import STANDING
from stowright.proofs.supported import Field, held_well

__all__ = ["joint_findings"]

#: A hard pull on a stuck drawer (judgement). [N]
HARD_PULL = 300.0


def joint_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about what holds the parts of drawers, shelves and cleats together."""
    for block, opening in index.openings():
        for piece in index.in_drawer(opening, "drawer-bottom", "tray-base")[:1]:
            yield from _bottom_off(index, block, opening, piece)
        yield from _front_pulled(index, block, opening)
        yield from _shelf(index, opening)
    for piece in index.of_role("wing-cleat"):
        yield from _cleat(index, piece)
    yield from distance_findings(index)


def _shock_loads(index: Index, piece: PlacedPart, mass_kg: float) -> tuple[Load, ...]:
    """Return what a shock makes of contents and of a panel's own mass. [N]."""
    shock = road_shock(road=index.design.job.road)
    own = index.part(piece).mass_kg
    return (
        Load(kind="contents", value=shock * mass_kg * G),
        Load(kind="own mass", value=shock * own * G),
    )


def _road(index: Index) -> str:
    road = index.design.job.road
    return f"road {road}: {road_shock(road=road):g} g, instantaneous"


def _bottom_off(
    index: Index, block: BlockDesign, opening: OpeningDesign, piece: PlacedPart
) -> Iterator[Finding]:
    """Whether a shock pushes the bottom off its sides, by the way it is fitted."""
    about = About(
        id=f"BOTTOM-JOINT:{opening.name}",
        title=f"Contents do not push the bottom off {opening.name}",
        about=piece.mark,
        family=7,
        source="statics",
        standing="published",
        load_case=_road(index),
    )
    if not index.design.job.carry:
        yield not_proved(about, needs=(NO_CARRY,))
        return
    joints = [j for j in index.joints.get(piece.id, []) if _other(j, piece.id) in index.pieces]
    loads = _shock_loads(index, piece, opening.contents_kg)
    grooved = [joint for joint in joints if let_in(joint)]
    planted = [joint for joint in joints if joint.kind == "planted"]
    under = [
        joint
        for joint in joints
        if abs(index.boxes[_other(joint, piece.id)].z.high - index.boxes[piece.id].z.low) < 1.0
    ]
    if under:
        yield _on_cheeks(index, about, piece, under, loads)
    elif grooved:
        yield _lip(index, block, opening, about, piece, grooved)
    elif planted:
        yield worst(pulled_apart(index, about, joints=planted, loads=loads))
    elif joints:
        yield sheared(index, about, joints=joints, loads=loads)


def _on_cheeks(
    index: Index, about: About, piece: PlacedPart, joints: list[Joint], loads: tuple[Load, ...]
) -> Finding:
    """Return the finding of a base that lies on what it is joined to: it bears, nothing hangs."""
    rests = index.pieces[_other(joints[0], piece.id)]
    area = sum(glued_area(index, joint) for joint in joints)
    return held(
        about, loads=loads, capacity=bearing_capacity(index, rests, area_mm2=max(area, 1.0))
    )


def _other(joint: Joint, piece: str) -> str:
    return joint.parts[1] if joint.parts[0] == piece else joint.parts[0]


def _lip(
    index: Index,
    block: BlockDesign,
    opening: OpeningDesign,
    about: About,
    piece: PlacedPart,
    joints: list[Joint],
) -> Finding:
    """Return the finding about the lip under a groove: shear in the plane of the side's plies."""
    edges = joined_edges(index, piece, depth_axis=block.axes[1])
    if not held_well(edges):
        return not_proved(about, needs=("two opposite edges of the bottom held by joints",))
    sheet = Sheet(material=index.material(piece), thickness=piece.thickness, grain_1=True)
    field = Field(sheet=sheet, side_1=piece.length, side_2=piece.width, edges=edges)
    shock = road_shock(road=index.design.job.road)
    area = piece.length * piece.width
    contents = max(field.shear(pressure_n_mm2=shock * opening.contents_kg * G / area))
    own = max(field.shear(pressure_n_mm2=shock * self_weight_n_mm2(sheet)))
    side = index.pieces[_other(joints[0], piece.id)]
    row = index.material(side)
    strength = sheet_strength(
        row,
        strength=row.f_rolling,
        duration="instantaneous",
        service_class=index.service_class,
    )
    up = opening.build.groove_up
    capacity = replace(
        strength,
        value=up * strength.value,
        unit="N/mm",
        working=(
            *strength.working,
            (
                f"lip under the groove: R = h f_r = {up:g} mm x {strength.value:.2f} N/mm² = "
                f"{up * strength.value:.1f} N per mm of edge, planar shear of the side"
            ),
        ),
    )
    return held(
        about,
        loads=(
            Load(kind="contents", value=contents, what="edge reaction of contents"),
            Load(kind="own mass", value=own, what="edge reaction of its own mass"),
        ),
        capacity=capacity,
        advice=(f"the groove {2.0 * up:g} mm up instead of {up:g} doubles the lip",),
    )


def _front_pulled(index: Index, block: BlockDesign, opening: OpeningDesign) -> Iterator[Finding]:
    """Whether a hard pull, or the latch, takes the front off its box."""
    fronts = index.in_drawer(opening, "drawer-front")
    if not fronts or opening.runner is None:
        return
    front = fronts[0]
    about = About(
        id=f"FRONT-PULL:{opening.name}",
        title=f"The front of {opening.name} is not pulled off its box",
        about=front.mark,
        family=7,
        source="a hard pull of 300 N (judgement)",
        standing="assumed",
        load_case="pulled hard, short",
        working=(f"F = {HARD_PULL:g} N on the handle",),
    )
    joints = [
        joint
        for joint in index.joints.get(front.id, [])
        if (other := index.pieces.get(_other(joint, front.id))) is not None
        and other.body == front.body
        and other.role.startswith("drawer")
    ]
    yield held_or_told(about, partial(_off, index, block, opening, about, joints))


def _off(
    index: Index, block: BlockDesign, opening: OpeningDesign, about: About, joints: list[Joint]
) -> Finding:
    """Return the finding of a front under a hand, and under its latch where that is on it."""
    push = pushes(index.rules, block.face)
    latched = push.opening * opening.gross_kg * G
    cases: list[tuple[About, Load, Duration, RuleSet | None]] = [
        (about, Load(kind="people", value=HARD_PULL, what="hand"), "short", None)
    ]
    if opening.runner is not None and opening.runner.latch:
        case = f"{index.rules.name}: {push.opening:g} g, {push.names[0]}, held by its latch"
        told = replace(
            about, load_case=case, working=(f"F = a m g = {latched:.0f} N on {opening.name}",)
        )
        load = Load(kind="restraint", value=latched, what=push.names[0])
        cases.append((told, load, "instantaneous", index.rules))
    planted = [joint for joint in joints if joint.kind == "planted"]
    if not joints:
        return not_proved(about, needs=("what joins the front to its box",))
    found: list[Finding] = []
    for told, load, duration, rules in cases:
        if planted:
            found += pulled_apart(
                index, told, joints=planted, loads=(load,), duration=duration, rules=rules
            )
        else:
            found.append(
                sheared(index, told, joints=joints, loads=(load,), duration=duration, rules=rules)
            )
    return worst(found)


def _shelf(index: Index, opening: OpeningDesign) -> Iterator[Finding]:
    """Whether a shelf stays in its sides under a shock on what stands on it."""
    piece = index.pieces.get(opening.bounds[2])
    if piece is None or piece.role != "shelf":
        return
    about = About(
        id=f"SHELF-JOINT:{piece.id}",
        title=f"{index.part(piece).name} stays in its sides",
        about=piece.mark,
        family=7,
        source="statics; half of the load on each side",
        standing="published",
        load_case=_road(index),
    )
    if opening.fill in STANDING and not index.design.job.carry:
        yield not_proved(about, needs=(NO_CARRY,))
        return
    mass = opening.contents_kg if opening.fill in STANDING else 0.0
    joints = [
        joint
        for joint in index.joints.get(piece.id, [])
        if (other := index.pieces.get(_other(joint, piece.id))) is not None
        and other.role in {"carcass-side", "partition"}
    ]
    loads = _shock_loads(index, piece, mass)
    housed = [joint for joint in joints if joint.kind == "housing"]
    if housed and len(housed) == len(joints):
        depth = index.design.job.build.joint_depth or 0.3 * piece.thickness
        side = index.pieces[_other(housed[0], piece.id)]
        length = max(index.boxes[piece.id].x.size, index.boxes[piece.id].y.size)
        run = min(length, side.length)
        capacity = bearing_capacity(index, side, area_mm2=2.0 * depth * run)
        yield held(about, loads=loads, capacity=capacity)
    else:
        yield sheared(index, about, joints=joints, loads=loads)


def _cleat(index: Index, piece: PlacedPart) -> Iterator[Finding]:
    """Whether a wing's cleat stays on its carcass under a shock, and a foot by it."""
    joints = [
        joint
        for joint in index.joints.get(piece.id, [])
        if (other := index.pieces.get(_other(joint, piece.id))) is not None
        and other.role in {"carcass-side", "carcass-back"}
    ]
    if not joints:
        return
    about = About(
        id=f"CLEAT-JOINT:{piece.id}",
        title=f"{index.part(piece).name} stays on its carcass",
        about=piece.mark,
        family=7,
        source="statics; half of the wing hangs on its cleat",
        standing="published",
    )
    wings = [
        other
        for other in index.of_role("wing", "wing-lid")
        if index.boxes[other.id].x.overlap(index.boxes[piece.id].x) > 0.0
        and index.boxes[other.id].y.overlap(index.boxes[piece.id].y) > 0.0
        and abs(index.boxes[other.id].z.low - index.boxes[piece.id].z.high) < 2.0
    ]
    shock = road_shock(road=index.design.job.road)
    mass = index.part(piece).mass_kg + sum(index.part(wing).mass_kg for wing in wings) / 2.0
    foot = PATCHES[1]
    yield worst(
        (
            sheared(
                index,
                replace(about, load_case=_road(index)),
                joints=joints,
                loads=(Load(kind="own mass", value=shock * mass * G),),
            ),
            people_told(
                "wing",
                sheared(
                    index,
                    replace(about, load_case=f"parked: {foot.what} over it, {foot.load_n:g} N"),
                    joints=joints,
                    loads=(Load(kind="people", value=foot.load_n),),
                    duration="short",
                ),
            ),
        )
    )
