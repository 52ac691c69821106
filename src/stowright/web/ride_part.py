"""What rides on a deck, on the carry page: which deck, where on it, and what ties it down."""

from __future__ import annotations

from typing import Any

from stowright.app.edits import Edits, typed
from stowright.web.fields import choice, field, raw, small_button, tick
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Visitor

__all__ = ["ACTS", "deck_choice", "ride_box"]

_AXES = (("1", "its middle, forward of the tail"), ("2", "its middle, left of the centre line"))


def deck_choice(visitor: Visitor, path: str) -> Markup | None:
    """Return the choice of a deck to ride on; nothing where the job has no deck."""
    job = visitor.bench.study.job
    decks = [deck.name for deck in job.decks] if job else []
    if not decks and not visitor.at(f"{path}.on"):
        return None
    return choice(visitor, f"{path}.on", "rides on", [("", "no deck"), *((d, d) for d in decks)],
                  act="ride", help_name="lashing")  # fmt: skip


def ride_box(visitor: Visitor, path: str) -> Markup | None:
    """Return where a thing lies on its deck and what ties it down; nothing beside a deck."""
    if not visitor.at(f"{path}.on"):
        return None
    spot = visitor.at(f"{path}.at") or ["", ""]
    straps = [(row.name, row.name) for row in visitor.bench.catalogue.hardware
              if row.kind == "strap"]  # fmt: skip
    lash = visitor.at(f"{path}.lash")
    return h(
        "div.fill-box",
        h("h4", "On the deck"),
        h(
            "div.cells",
            [
                field(visitor, f"{path}.at[{axis}]", label, act="spot", assumed="laid out",
                      value=raw(spot[int(axis) - 1]), compact=True)
                for axis, label in _AXES
            ],
            choice(visitor, f"{path}.lash.strap", "strap", straps, default="cam-strap-25")
            if lash
            else None,
            field(visitor, f"{path}.lash.count", "straps for each", unit="", compact=True)
            if lash
            else None,
        ),
        small_button("Lay it out from the cab end again", "unspot", path=path, style="quiet",
                     enabled=visitor.may_change())
        if visitor.at(f"{path}.at")
        else None,
        h(
            "fieldset",
            h("legend", "Tied down to"),
            h("div.row.wrap", [_point(visitor, path, point) for point in _points(visitor, path)]),
            None if lash else h("p.small", "Nothing ties it down: it is not held in a swerve."),
        ),
        data_key=f"{path}-ride",
    )  # fmt: skip


def _points(visitor: Visitor, path: str) -> list[str]:
    """Return what a strap may go to: rings in the unit, rails of the deck, the bay's anchors."""
    job = visitor.bench.study.job
    on = visitor.at(f"{path}.on")
    decks = [deck for deck in job.decks if deck.name == on] if job else []
    rails = [rail.name or f"{rail.side} rail" for deck in decks for rail in deck.rails]
    anchors = [anchor.what for anchor in job.bay.anchors if anchor.what] if job else []
    return list(dict.fromkeys(["unit", *rails, *anchors, *_tied(visitor, path)]))


def _tied(visitor: Visitor, path: str) -> list[str]:
    return [str(name) for name in visitor.at(f"{path}.lash.to") or ()]


def _point(visitor: Visitor, path: str, point: str) -> Markup:
    return tick(
        "rings through the deck" if point == "unit" else point,
        on=point in _tied(visitor, path),
        act="lash-to",
        path=path,
        point=point,
        enabled=visitor.may_change(),
    )


async def _ride(visitor: Visitor, event: Event) -> None:
    """A thing rides on a deck or lives in an opening, not both."""
    row = event.data["path"].rpartition(".")[0]
    edits: dict[str, object] = {f"{row}.on": event.value or None}
    gone = ("goes_in",) if event.value else ("at", "lash")
    edits |= {f"{row}.{key}": None for key in gone if visitor.at(f"{row}.{key}") is not None}
    await visitor.edit(edits, event.seen, drafts={event.data["path"]: event.value})


async def _spot(visitor: Visitor, event: Event) -> None:
    """One of two readings; the other stays, or is where the plan lays the first one out."""
    path = event.data["path"]
    row, axis = path.rpartition(".")[0], int(path[-2]) - 1
    spot = list(visitor.at(f"{row}.at") or _laid(visitor, row))
    value = typed(event.value)
    if value is None:
        await _unspot(visitor, Event(act="unspot", seen=event.seen, data={"path": row}))
        return
    spot[axis] = value
    await visitor.edit({f"{row}.at": spot}, event.seen, drafts={path: event.value})


def _laid(visitor: Visitor, row: str) -> list[object]:
    """Return where the plan lays the first of a thing, in the job's unit."""
    shown = visitor.bench.shown
    cargo = shown.design.deck_cargo if shown and shown.design else ()
    what = visitor.at(f"{row}.what")
    scale = 25.4 if visitor.units == "in" else 1.0
    for lying in cargo:
        if lying.what == what and lying.copy == 1:
            spans = (lying.box.x, lying.box.y)
            return [typed(f"{(span.low + span.high) / 2.0 / scale:.2f}") for span in spans]
    return [0, 0]


async def _unspot(visitor: Visitor, event: Event) -> None:
    await visitor.edit({f"{event.data['path']}.at": None}, event.seen)


async def _lash_to(visitor: Visitor, event: Event) -> None:
    path, point = event.data["path"], event.data["point"]
    tied = [name for name in _tied(visitor, path) if name != point]
    if event.value:
        tied.append(point)
    words = "tied to" if event.value else "no longer tied to"
    await visitor.edit(_lashed(visitor, path, tied), event.seen, what=f"{path}: {words} {point}")


def _lashed(visitor: Visitor, path: str, tied: list[str]) -> Edits:
    """Return the change of what a thing is tied to; a strap to each point, two at least."""
    lash: dict[str, Any] = dict(visitor.at(f"{path}.lash") or {})
    if not tied:
        return {f"{path}.lash": None}
    return {f"{path}.lash": {"count": max(2, len(tied)), **lash, "to": tied}}


ACTS = {"ride": _ride, "spot": _spot, "unspot": _unspot, "lash-to": _lash_to}
