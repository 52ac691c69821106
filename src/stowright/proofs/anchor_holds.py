"""What stands round each hold-down bolt: bolt, sheet, packer, floor, upright, joint.

A hold is a value of its own, so that another plate, thread or place can be tried on it.
"""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.anchor_rules import grip_below
from stowright.model.bay import Anchor
from stowright.model.catalogue import Bolt, Catalogue, Hardware, Material, Nut, Washer
from stowright.model.design import AnchorPoint
from stowright.model.geometry import Box
from stowright.model.part import Joint, PlacedPart
from stowright.proofs.restraint_bodies import StandingBody, Survey, piece_box

__all__ = ["Hold", "holds_of"]

_UPRIGHTS = frozenset({"carcass-side", "partition"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """One hold-down bolt with all that its force passes through.

    Attributes:
        bolt, washer, plate, nut: Catalogue rows; None where there is none.
        existing: The factory anchor that it turns into, None for a new hole.
        panel: Material of the carcass floor, None where it is not known.
        floor_mm: Thickness of the floor. [mm]
        bending_n_mm2: Bending strength of the floor across the uprights. [N/mm2]
        packer_mm: Thickness of the packer under it, 0 without one. [mm]
        gap_mm: From the underside of packer or floor to the sheet that holds the bolt. [mm]
        arm_mm: From the bolt to the nearest upright's face. [mm]
        span_mm: Clear floor between the two uprights beside it. [mm]
        ends_mm: From the bolt to both ends of the floor, along the upright. [mm]
        glued: Whether floor and nearest upright are glued.
        joint_mm: Thickness of the glued edge. [mm]
        angle: Metal angle from floor to upright under the bolt's head, or None.
    """

    id: str
    x: float
    y: float
    bolt: Bolt
    washer: Washer | None
    plate: Washer | None
    nut: Nut | None
    existing: Anchor | None
    panel: Material | None
    floor_mm: float
    bending_n_mm2: float
    packer_mm: float
    gap_mm: float
    arm_mm: float
    span_mm: float
    ends_mm: tuple[float, float]
    glued: bool
    joint_mm: float
    angle: Hardware | None

    @property
    def washer_mm(self) -> float:
        """Diameter that presses on the floor: washer or head. [mm]."""
        return self.washer.outside if self.washer else self.bolt.across_flats


def holds_of(survey: Survey, body: StandingBody, catalogue: Catalogue) -> tuple[Hold, ...]:
    """Return the hold-down bolts of a carcass with what stands round them."""
    mine = [
        p
        for p in survey.of.placed
        if p.block == body.block.name
        and (
            (p.module == body.module.name and (p.role in _UPRIGHTS or "floor" in p.role))
            or p.role == "packer"
        )
    ]
    site = _Site(
        body=body,
        catalogue=catalogue,
        across=1 if body.block.face == "tail" else 0,
        uprights=tuple(piece_box(p) for p in mine if p.role in _UPRIGHTS),
        upright_ids=tuple(p.id for p in mine if p.role in _UPRIGHTS),
        packers=tuple(piece_box(p) for p in mine if p.role == "packer"),
    )
    return tuple(_hold(survey, site, anchor) for anchor in body.anchors)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Site:
    body: StandingBody
    catalogue: Catalogue
    across: int
    uprights: tuple[Box, ...]
    upright_ids: tuple[str, ...]
    packers: tuple[Box, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Beside:
    """The uprights beside a bolt."""

    arm: float
    span: float
    nearest: str


def _hold(survey: Survey, site: _Site, anchor: AnchorPoint) -> Hold:
    catalogue, design = site.catalogue, survey.of
    floor = survey.pieces[anchor.part]
    part = survey.parts[floor.mark]
    panel = catalogue.material(part.material)
    box = piece_box(floor)
    packer = next((b for b in site.packers if _covers(b, anchor.x, anchor.y)), None)
    packer_mm = packer.z.size if packer else 0.0
    existing = _factory(survey, anchor)
    below = grip_below(design.job.bay)
    sheet = existing.z if existing else (design_depth(below.depth, survey) if below.known else 0.0)
    beside = _beside(site, anchor)
    joint = _joint(design.joints, floor.id, beside.nearest)
    along = 1 - site.across
    at, ends = (anchor.x, anchor.y)[along], (box.x, box.y)[along]
    return Hold(
        id=anchor.id,
        x=anchor.x,
        y=anchor.y,
        bolt=catalogue.bolt(anchor.bolt),
        washer=catalogue.washer(anchor.washer) if anchor.washer else None,
        plate=catalogue.washer(anchor.plate) if anchor.plate else None,
        nut=catalogue.nut(anchor.nut) if anchor.nut else None,
        existing=existing,
        panel=panel,
        floor_mm=part.thickness,
        bending_n_mm2=_bending(panel, floor, site.across),
        packer_mm=packer_mm,
        gap_mm=max(0.0, box.z.low - packer_mm - sheet),
        arm_mm=beside.arm,
        span_mm=beside.span,
        ends_mm=(max(0.0, at - ends.low), max(0.0, ends.high - at)),
        glued=joint is not None and joint.glued,
        joint_mm=survey.parts[survey.pieces[joint.parts[1]].mark].thickness if joint else 0.0,
        angle=catalogue.item(anchor.angle) if anchor.angle else None,
    )


def design_depth(depth: float, survey: Survey) -> float:
    """Return the height of the sheet's upper face at a bolt through it. [mm]."""
    floor = survey.of.job.bay.floor
    return -(depth - floor.thickness) if floor else 0.0


def _factory(survey: Survey, anchor: AnchorPoint) -> Anchor | None:
    if not anchor.existing:
        return None
    rows = [a for a in survey.of.job.bay.anchors if a.surface == anchor.surface]
    return min(rows, key=lambda a: abs(a.x - anchor.x) + abs(a.y - anchor.y), default=None)


def _covers(box: Box, x: float, y: float) -> bool:
    return box.x.low <= x <= box.x.high and box.y.low <= y <= box.y.high


def _beside(site: _Site, anchor: AnchorPoint) -> _Beside:
    """Return how far the uprights stand from a bolt, on the axis across them."""
    at = (anchor.x, anchor.y)[site.across]
    low, high, low_id, high_id = float("-inf"), float("inf"), "", ""
    for box, piece in zip(site.uprights, site.upright_ids, strict=True):
        reach = (box.x, box.y)[site.across]
        if reach.middle < at and reach.high > low:
            low, low_id = reach.high, piece
        elif reach.middle >= at and reach.low < high:
            high, high_id = reach.low, piece
    arm = min(at - low, high - at)
    nearest = low_id if at - low <= high - at else high_id
    arm = max(arm, 1.0)
    clear = high - low
    span = clear if 2.0 * arm <= clear < float("inf") else 2.0 * arm
    return _Beside(arm=arm, span=span, nearest=nearest)


def _joint(joints: tuple[Joint, ...], floor: str, upright: str) -> Joint | None:
    return next((j for j in joints if floor in j.parts and upright in j.parts), None)


def _bending(panel: Material, floor: PlacedPart, across: int) -> float:
    """Return the floor's bending strength over the span between uprights. [N/mm2]."""
    grain_across = abs(floor.axes[0][across]) > 0.5
    return panel.f_along if grain_across else panel.f_across
