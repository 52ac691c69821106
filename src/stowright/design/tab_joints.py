"""Tab-and-slot joints: which parts get tabs, which get slots, and how the two fit.

A router's joint. The part that would butt against another gets tabs along its edge, the other one
a slot for each. A slot is as wide as the thickest reading of the tabbed sheet (or the thickest
that EN 315 allows where nobody has measured) and the fit allowance, and as long as its tab and the
allowance. All tabs of a body point one way, so that it can be pushed together from its two ends.
A through tab ends a little under the surface on the thinnest sheet: what lies against it stays
flat. Where two parts meet a third at one place from both sides, the slots are blind.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from stowright.design.contacts import CONTACT_GAP, Contact, contact_of
from stowright.design.context import Context
from stowright.design.fixing_space import Body, Interval, body_of, feature_solid
from stowright.design.pieces import JointDraft, Piece
from stowright.design.reliefs import root_reliefs, slot_reliefs, slot_takes
from stowright.design.tab_places import rule_for, tab_places
from stowright.errors import DesignError
from stowright.model.geometry import Point3, Span
from stowright.model.job import Build, Job
from stowright.model.part import TAB_SLOT, Feature, Tab
from stowright.units import snap_down

__all__ = [
    "FIT_ALLOWANCE",
    "TAB_AND_SLOT",
    "Tabbed",
    "allowance_of",
    "builds_with_tabs",
    "tabbed",
    "with_tab_joints",
]

TAB_AND_SLOT: Literal["tab-and-slot"] = "tab-and-slot"
#: Of a slot over the thickest sheet, and over its tab's length (judgement). [mm]
FIT_ALLOWANCE = 0.2
#: How far a through tab ends under the thinnest surface (judgement). [mm]
_UNDER = 0.2
#: Air under a blind tab, for the glue that it pushes ahead (judgement). [mm]
_GLUE = 0.5
#: Depth of a blind slot when the job does not say, and wood left behind it (common practice). [mm]
_BLIND, _LEFT = 6.0, 3.0
#: A tab shorter than this locates nothing. [mm]
_LEAST_REACH = 2.0
#: Wood kept between a slot and anything else made in the part (judgement). [mm]
_CLEAR = 6.0
#: Wood kept behind a slot's bottom (judgement). [mm]
_BEHIND = 1.0
#: Wood thinner than this between a slot and the part's edge is cut away with it. [mm]
_SLIVER = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tabbed:
    """Pieces with their tabs and slots.

    Attributes:
        pieces: All pieces, in the order they came.
        pairs: (receiver, entering) of every joint that has tabs.
        without: What stands in the way of the others, in words, by (receiver, entering).
    """

    pieces: tuple[Piece, ...]
    pairs: frozenset[tuple[str, str]] = frozenset()
    without: dict[tuple[str, str], str] = field(default_factory=dict)


def allowance_of(build: Build) -> float:
    """Return how much wider than the thickest sheet, and longer than its tab, a slot is. [mm]."""
    return FIT_ALLOWANCE if build.fit_allowance is None else build.fit_allowance


def builds_with_tabs(job: Job) -> tuple[Build, ...]:
    """Return the materials and methods of a job, its blocks and fills that ask for tabs."""
    every = [job.build]
    for block in job.blocks:
        every.append(block.build)
        every += [fill.build for column in block.columns for fill in column.stack]
    return tuple(build for build in every if build.joint == TAB_AND_SLOT)


def tabbed(
    context: Context,
    build: Build,
    pieces: Iterable[Piece],
    pairs: Iterable[tuple[str, str]],
    *,
    keep_clear: Sequence[Span] = (),
) -> Tabbed:
    """Return the pieces with tabs and slots where the build asks for them.

    Args:
        context: For thicknesses and the cutter.
        build: Materials and methods of the body.
        pieces: Every piece of it, from shoulder to shoulder.
        pairs: Ids of the piece with the slots and of the one with the tabs, for each joint.
        keep_clear: Heights that no slot may reach into: where runners lie.

    Raises:
        DesignError: When the job is not cut by a router.
    """
    found = Tabbed(pieces=tuple(pieces))
    if build.joint != TAB_AND_SLOT:
        return found
    if context.job.build.method != "cnc":
        raise DesignError("build.joint", "tab-and-slot joints are cut by a router", "method = cnc")
    bench = _Bench(context=context, build=build, keep_clear=tuple(keep_clear))
    by_id = {piece.id: piece for piece in found.pieces}
    meetings = [(pair, _meeting(by_id, pair)) for pair in pairs]
    contacts = [contact for _, contact in meetings if contact is not None]
    done, without = set[tuple[str, str]](), dict[tuple[str, str], str]()
    for pair, contact in meetings:
        if contact is None:
            continue
        why = bench.join(by_id, contact, both_sides=_from_both_sides(contact, contacts))
        if why:
            without[pair] = why
        else:
            done.add(pair)
    return Tabbed(
        pieces=tuple(by_id[piece.id] for piece in found.pieces),
        pairs=frozenset(done),
        without=without,
    )


def with_tab_joints(drafts: Iterable[JointDraft], made: Tabbed) -> tuple[JointDraft, ...]:
    """Return the drafts, those that have tabs told so, those that found no room with the reason."""
    if not (made.pairs or made.without):
        return tuple(drafts)
    return tuple(
        replace(draft, kind=TAB_AND_SLOT)
        if (draft.receiver, draft.entering) in made.pairs
        else replace(draft, note=made.without.get((draft.receiver, draft.entering), draft.note))
        for draft in drafts
    )


def _meeting(by_id: dict[str, Piece], pair: tuple[str, str]) -> Contact | None:
    """Return how a face and an edge meet, None when they do not or one of them is shaped."""
    one, two = by_id[pair[0]], by_id[pair[1]]
    if one.outline or two.outline:
        return None
    contact = contact_of(body_of(one), body_of(two), gap=CONTACT_GAP)
    if contact is None or not contact.into_edge or contact.receiver.id != one.id:
        return None
    return contact


def _from_both_sides(contact: Contact, contacts: list[Contact]) -> bool:
    """Whether another piece comes in at the same place from the receiver's other face."""
    return any(
        other.receiver.id == contact.receiver.id
        and other.sign != contact.sign
        and all(
            mine.overlap(theirs) > -_CLEAR
            for mine, theirs in zip(contact.spans, other.spans, strict=True)
        )
        for other in contacts
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fit:
    """How a joint's tabs and slots fit: half the play each way, tab reach, slot depth. [mm]."""

    across: float
    along: float
    reach: float
    depth: float
    through: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bench:
    """Everything that the joints of one body share."""

    context: Context
    build: Build
    keep_clear: tuple[Span, ...]

    def join(self, by_id: dict[str, Piece], contact: Contact, *, both_sides: bool) -> str:
        """Cut one joint into its two pieces; return what stands in its way, else nothing."""
        receiver, entering = by_id[contact.receiver.id], by_id[contact.entering.id]
        fit = self._fit(contact, both_sides=both_sides)
        if fit.reach < _LEAST_REACH:
            return "the sheet is too thin for a slot that leaves wood behind it"
        cutter, rule = self.context.cutter, rule_for(self.context.cutter)
        across = contact.entering.thickness_axis
        wide = contact.span(across).size + 2.0 * fit.across
        if not slot_takes(cutter, width=wide, length=rule.least):
            return f"a cutter of {cutter:g} mm does not go into a slot of {wide:.1f} mm"
        along = next(k for k in contact.others if k != across)
        frame = _Line(contact=contact, along=along, across=across, fit=fit)
        blocked = [
            *frame.taken(body_of(receiver), behind=-fit.depth, clear=_BEHIND),
            *frame.taken(body_of(entering), behind=2.0 * rule.least, clear=_CLEAR),
            *(frame.stretch(span.low, span.high) for span in self.keep_clear if along == 2),
        ]
        keyed = bool(entering.front_edge) and along != 2
        places = tab_places(contact.span(along).size, blocked, rule, keyed=keyed)
        if not places:
            return f"no room for two tabs along {contact.span(along).size:.0f} mm"
        by_id[receiver.id] = frame.slotted(receiver, entering.name, places, cutter)
        by_id[entering.id] = frame.tongued(entering, places, cutter)
        return ""

    def _fit(self, contact: Contact, *, both_sides: bool) -> _Fit:
        context, build = self.context, self.build
        sheet = context.thickness(contact.entering.piece.material)
        t, play = contact.entering.piece.thickness, allowance_of(build)
        across = max(sheet.t_max - t, 0.0) + play
        behind = context.thickness(contact.receiver.piece.material)
        least = min(behind.t_min, contact.receiver.piece.thickness)
        if build.slots == "blind" or both_sides:
            room = least / 3.0 if both_sides else least - _LEFT
            depth = round(min(build.joint_depth or _BLIND, room), 1)
            reach, through = snap_down(depth - _GLUE, context.grid), False
        else:
            depth, through = contact.receiver.piece.thickness, True
            reach = snap_down(least - _UNDER, context.grid)
        return _Fit(
            across=across / 2.0, along=play / 2.0, reach=reach, depth=depth, through=through
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """The line along which two pieces meet; distances on it run from the receiver's origin."""

    contact: Contact
    along: int
    across: int
    fit: _Fit

    @property
    def _sign(self) -> float:
        return self.contact.receiver.sign[self.along]

    @property
    def _start(self) -> float:
        span = self.contact.span(self.along)
        return span.low if self._sign > 0.0 else span.high

    def stretch(self, a: float, b: float) -> Interval:
        """Return a range of the bay as distances along the line."""
        one, two = self._sign * (a - self._start), self._sign * (b - self._start)
        return (min(one, two), max(one, two))

    def _bay(self, place: Interval) -> tuple[float, float]:
        one, two = (self._start + self._sign * t for t in place)
        return (min(one, two), max(one, two))

    def taken(self, body: Body, *, behind: float, clear: float) -> list[Interval]:
        """Return where what is made in a piece comes near the line.

        Args:
            body: The piece.
            behind: How far from the meeting plane it still counts, along the way that the fixing
                goes: below zero in the receiver. [mm]
            clear: What has to be between, on that axis. [mm]
        """
        axis, across = self.contact.axis, self.contact.span(self.across)
        low = across.low - self.fit.across - _CLEAR
        high = across.high + self.fit.across + _CLEAR
        plane = self.contact.meet_at
        near, far = sorted((plane, plane + self.contact.sign * behind))
        a, k, c = 2 * self.along, 2 * axis, 2 * self.across
        found = []
        for feature in body.piece.features:
            solid = feature_solid(body, feature)
            if (
                solid[c] < high
                and solid[c + 1] > low
                and solid[k] < far + clear
                and solid[k + 1] > near - clear
            ):
                found.append(self.stretch(solid[a] - _CLEAR, solid[a + 1] + _CLEAR))
        return found

    def slotted(self, piece: Piece, name: str, places: Iterable[Interval], cutter: float) -> Piece:
        """Return the receiver with a slot for each tab."""
        features, reliefs = list(piece.features), list(piece.reliefs)
        for place in places:
            feature = self._slot(piece, name, place)
            features.append(feature)
            u, v = feature.at
            reliefs += slot_reliefs(
                (u, v),
                (round(u + feature.size[0], 6), round(v + feature.size[1], 6)),
                size=(piece.length, piece.width),
                cutter=cutter,
                face="back" if feature.face == "back" else "good",
                depth=feature.depth,
                through=feature.through,
            )
        return replace(piece, features=tuple(features), reliefs=tuple(reliefs))

    def _slot(self, piece: Piece, name: str, place: Interval) -> Feature:
        contact, fit = self.contact, self.fit
        low, high = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
        low[self.along], high[self.along] = self._bay(place)
        low[self.along] -= fit.along
        high[self.along] += fit.along
        across = contact.span(self.across)
        low[self.across], high[self.across] = across.low - fit.across, across.high + fit.across
        low[contact.axis] = high[contact.axis] = contact.meet_at
        one, two = contact.receiver.uvw(low), contact.receiver.uvw(high)
        u = _in_piece(one[0], two[0], piece.length)
        v = _in_piece(one[1], two[1], piece.width)
        face = contact.receiver.face_towards(contact.axis, contact.sign)
        return Feature(
            kind="slot",
            face="good" if fit.through or face == "good" else "back",
            at=(u[0], v[0]),
            size=(round(u[1] - u[0], 4), round(v[1] - v[0], 4)),
            depth=fit.depth,
            through=fit.through,
            purpose=f"{TAB_SLOT}{name}",
        )

    def tongued(self, piece: Piece, places: Iterable[Interval], cutter: float) -> Piece:
        """Return the entering piece with its tabs."""
        tabs, reliefs = list(piece.tabs), list(piece.reliefs)
        edge = self.contact.bitten_face
        first = 1 if edge in {"u0", "u1"} else 0
        for place in places:
            ends = [self._on_edge(at)[first] for at in self._bay(place)]
            tab = Tab(edge=_edge(edge), start=min(ends), end=max(ends), reach=self.fit.reach)
            tabs.append(tab)
            reliefs += root_reliefs(tab, size=(piece.length, piece.width), cutter=cutter)
        return replace(piece, tabs=tuple(tabs), reliefs=tuple(reliefs))

    def _on_edge(self, at: float) -> Point3:
        point = [0.0, 0.0, 0.0]
        point[self.along] = at
        point[self.across] = self.contact.span(self.across).low
        point[self.contact.axis] = self.contact.meet_at
        return self.contact.entering.uvw(point)


def _in_piece(one: float, two: float, size: float) -> tuple[float, float]:
    """Return a slot's range in the receiver, run out at an edge that it would leave a sliver at."""
    low, high = min(one, two), max(one, two)
    return (
        0.0 if low < _SLIVER else round(low, 4),
        size if high > size - _SLIVER else round(high, 4),
    )


def _edge(face: str) -> Literal["u0", "u1", "v0", "v1"]:
    match face:
        case "u0":
            return "u0"
        case "u1":
            return "u1"
        case "v0":
            return "v0"
        case _:
            return "v1"
