"""Joint drafts into screws: which screw, how many rows, where, and what the rules say of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil

from stowright.design.contacts import CONTACT_GAP, Contact, contact_of, cover_of
from stowright.design.fixing_ledger import STEPS, Ledger
from stowright.design.fixing_rows import END, END_LEAST, wanted_places
from stowright.design.pieces import JointDraft
from stowright.design.screw_choice import Passed, edge_screw, face_screw
from stowright.design.screw_rows import Row, Served, drive, free_places, row_of
from stowright.model.catalogue import Screw
from stowright.model.part import Joint

__all__ = ["screw_joints"]

#: A face meeting wider than this gets a row along either edge, then one every 300. [mm]
_TWO_ROWS = 120.0
_ROW_PITCH = 300.0
_JOINT_KIND = {"lamination": "planted"}
#: Kinds in which a part bears on the other, so that glue alone will do where no screw goes.
_FOUND_HOLD = frozenset({"housing", "rebate", "tab-and-slot"})


def screw_joints(ledger: Ledger, drafts: Iterable[JointDraft]) -> None:
    """Fix every draft that screws can fix, in the order of building.

    Grooves hold without fixings and become joints with none; ``rest`` joins nothing; ``bolted``
    is for bolting. A draft whose pieces do not touch, or touch edge to edge, is warned of.
    """
    ordered = sorted(drafts, key=lambda d: STEPS.index(d.step) if d.step in STEPS else len(STEPS))
    for draft in ordered:
        if draft.kind == "groove":
            _joint(ledger, draft, (draft.receiver, draft.entering), None, 0, "")
        elif draft.kind not in {"rest", "bolted"}:
            _screw_one(ledger, draft)


def _screw_one(ledger: Ledger, draft: JointDraft) -> None:
    contact = _contact(ledger, draft)
    if contact is None:
        ledger.warn(f"{draft.purpose}: no screw can run from {draft.receiver} to {draft.entering}")
        _joint(ledger, draft, (draft.receiver, draft.entering), None, 0, "")
        return
    locates = draft.step == "packers"
    screw = _screw_for(ledger, contact, locates=locates)
    parts = (contact.receiver.id, contact.entering.id)
    count = 0
    if screw is None:
        ledger.warn(_no_screw(draft, contact))
    else:
        once = locates or draft.kind == "tab-and-slot"  # the tabs hold it in its place
        needed = 2 if max(s.size for s in contact.spans) >= 60.0 and not once else 1
        rows = _rows(contact, screw)
        for choice in (rows, *_beside(contact, screw, rows)):
            if _room(ledger, choice) >= needed:
                rows = choice
                break
        count = _fill(ledger, draft, rows, needed)
        if count < needed and draft.glued and draft.kind in _FOUND_HOLD:
            ledger.note(_no_place(draft, contact, count))
        elif count < needed:
            ledger.warn(_no_place(draft, contact, count))
    note = _rule_note(ledger, draft, contact, screw) if screw is not None and count else ""
    note = "; ".join(text for text in (draft.note, note) if text)
    _joint(ledger, draft, parts, screw, count, note)
    ledger.space.cover(contact.receiver.id, cover_of(contact))


def _contact(ledger: Ledger, draft: JointDraft) -> Contact | None:
    receiver, entering = ledger.body(draft.receiver), ledger.body(draft.entering)
    if receiver is None or entering is None:
        return None
    return contact_of(receiver, entering, gap=CONTACT_GAP)


def _joint(
    ledger: Ledger,
    draft: JointDraft,
    parts: tuple[str, str],
    screw: Screw | None,
    count: int,
    note: str,
) -> None:
    made = Joint(
        id=ledger.next_joint(),
        kind=_JOINT_KIND.get(draft.kind, draft.kind),
        parts=parts,
        glued=draft.glued,
        fixing=screw.name if screw is not None and count else "",
        count=count,
        note=note,
    )
    ledger.join(draft.step, made)


def _screw_for(ledger: Ledger, contact: Contact, *, locates: bool) -> Screw | None:
    """Return the screw for a contact; one that only locates may bite one diameter deep."""
    receiver, entering = contact.receiver.piece, contact.entering.piece
    depth = min(contact.bite_room, 100.0)
    key = (
        contact.into_edge,
        receiver.material,
        receiver.thickness,
        round(contact.passes, 3),
        entering.material,
        entering.thickness,
        depth if contact.into_edge else 0.0,
        locates,
    )
    if key not in ledger.screws_seen:
        t_least, t_most = ledger.limits(contact.receiver)
        passed = Passed(
            least=contact.passes - (receiver.thickness - t_least),
            most=contact.passes + (t_most - receiver.thickness),
        )
        screws = ledger.catalogue.screws
        ledger.screws_seen[key] = (
            edge_screw(screws, passed=passed, edge=entering.thickness, depth=depth)
            if contact.into_edge
            else face_screw(
                screws,
                passed=passed,
                t_min=ledger.limits(contact.entering)[0],
                thickness=entering.thickness,
                diameters=1.0 if locates else 2.0,
            )
        )
    return ledger.screws_seen[key]


def _rows(contact: Contact, screw: Screw) -> tuple[Row, ...]:
    """Return the rows of a contact: one along an edge, a pattern over a face."""
    if contact.into_edge:
        across = contact.entering.thickness_axis
        along = next(k for k in contact.others if k != across)
        return (row_of(contact, screw, along=along, line_at=contact.span(across).middle),)
    along, across = sorted(contact.others, key=lambda k: -contact.span(k).size)
    span = contact.span(across)
    if span.size < _TWO_ROWS:
        return (row_of(contact, screw, along=along, line_at=span.middle),)
    inset = min(END, span.size / 4.0)
    gaps = max(1, ceil((span.size - 2.0 * inset) / _ROW_PITCH - 1.0e-9))
    step = (span.size - 2.0 * inset) / gaps
    return tuple(
        row_of(contact, screw, along=along, line_at=span.low + inset + i * step)
        for i in range(gaps + 1)
    )


def _beside(contact: Contact, screw: Screw, rows: tuple[Row, ...]) -> Iterator[tuple[Row, ...]]:
    """Yield a face's single row moved to one side and the other, a quarter of its width."""
    if contact.into_edge or len(rows) > 1:
        return
    (row,) = rows
    span = contact.span(row.across)
    if span.size < 2.0 * END_LEAST:
        return
    for share in (0.25, 0.75):
        line = span.low + span.size * share
        yield (row_of(contact, screw, along=row.along, line_at=round(line, 4)),)


def _room(ledger: Ledger, rows: tuple[Row, ...]) -> int:
    return sum(len(free_places(ledger, row, wanted_places(row.length))) for row in rows)


def _fill(ledger: Ledger, draft: JointDraft, rows: tuple[Row, ...], needed: int) -> int:
    """Drive every row; where too few find room beside a runner, let heads lie under it."""
    served = Served(joint=ledger.next_joint(), step=draft.step)
    placed = [(row, free_places(ledger, row, wanted_places(row.length))) for row in rows]
    if sum(len(places) for _, places in placed) < needed:
        placed = [
            (row, free_places(ledger, row, wanted_places(row.length), under_runner=True))
            for row in rows
        ]
        if any(places for _, places in placed):
            piece = rows[0].contact.receiver.piece
            ledger.note(
                f"{piece.opening or piece.id}: heads of joint screws lie under a runner; drive "
                "them flush before it goes on"
            )
    return sum(drive(ledger, row, places, served) for row, places in placed)


def _no_screw(draft: JointDraft, contact: Contact) -> str:
    into = "edge" if contact.into_edge else "face"
    return (
        f"{draft.purpose}: no screw in the catalogue passes {contact.passes:.1f} mm and holds in "
        f"the {into} of {contact.entering.piece.material} without coming through"
        f"{'; it is held by glue alone' if draft.glued else ''}"
    )


def _no_place(draft: JointDraft, contact: Contact, count: int) -> str:
    how = "no screw can be driven" if count == 0 else f"room for {count} screw only"
    held = "; it is held by glue and what stands beside it" if draft.glued and count == 0 else ""
    return (
        f"{draft.purpose} ({contact.receiver.id} to {contact.entering.id}): {how}, something "
        f"lies in the way{held}"
    )


def _rule_note(ledger: Ledger, draft: JointDraft, contact: Contact, screw: Screw) -> str:
    """Say where the screw stands nearer to an edge than 3 d (EN 1995-1-1 8.3, from memory)."""
    if not contact.into_edge:
        return "locates only; the hold-down bolts hold it" if draft.step == "packers" else ""
    axis = contact.entering.thickness_axis
    line = contact.span(axis).middle
    bodies = (contact.entering, contact.receiver)
    edge = round(min(min(line - b.low[axis], b.high[axis] - line) for b in bodies), 1)
    if edge >= 3.0 * screw.diameter:
        return ""
    ledger.near_edge(screw.name, edge, draft.purpose)
    return f"{edge:.1f} mm to the edge is under 3 d = {3.0 * screw.diameter:.1f}: pre-drilled"
