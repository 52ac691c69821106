"""A deck on the arrange page: its height and edges, and the rails with tie points along them."""

from __future__ import annotations

from stowright.web.fields import choice, field, small_button
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Visitor

__all__ = ["ACTS", "deck_box"]

_EDGES = ("left", "right", "tail", "cab")


def deck_box(visitor: Visitor, place: int) -> Markup:
    """Return the fields of a deck, counted from 1."""
    path = f"deck[{place}]"
    rails = visitor.at(f"{path}.rails") or []
    may = visitor.may_change()
    return h(
        "fieldset",
        h("legend", str(visitor.at(f"{path}.name") or "Deck")),
        h(
            "div.cells",
            choice(visitor, f"{path}.kind", "Kind",
                   (("fixed", "fixed"), ("lift-out", "lifts out")), default="fixed",
                   help_name="deck"),
            field(visitor, f"{path}.below_rail", "Below the rail"),
            field(visitor, f"{path}.top", "Or its top above the floor"),
            field(visitor, f"{path}.overhang", "Stands out over the face", assumed="0"),
            choice(visitor, f"{path}.back", "Reaches to",
                   (("block", "the block's back"), ("wall", "the wall")), default="block"),
        ),
        [_rail(visitor, path, number) for number in range(1, len(rails) + 1)],
        h(
            "div.row.wrap",
            small_button("Add a tie rail", "add-rail", path=path, style="quiet",
                         enabled=may and len(rails) < len(_EDGES)),
            small_button("Take the deck out", "drop", path=path, style="quiet", enabled=may),
        ),
        data_key=path,
    )  # fmt: skip


def _rail(visitor: Visitor, deck: str, number: int) -> Markup:
    path = f"{deck}.rails[{number}]"
    side = str(visitor.at(f"{path}.side") or "left")
    name = str(visitor.at(f"{path}.name") or f"{side} rail")
    return h(
        "div.fill-box",
        h("h4", f"Tie rail: {name}"),
        h(
            "div.cells",
            choice(visitor, f"{path}.side", "Along the edge", [(edge, edge) for edge in _EDGES],
                   default="left", help_name="tie rail"),
            field(visitor, f"{path}.name", "Name", kind="text", unit="", assumed=f"{side} rail"),
            field(visitor, f"{path}.rating", "One point takes, as its maker says", unit="N",
                  assumed="unknown"),
            field(visitor, f"{path}.inset", "From the edge to its middle", assumed="40 mm"),
            field(visitor, f"{path}.pitch", "Bolts at most apart", assumed="200 mm"),
        ),
        small_button("Take out", "drop-rail", path=path, style="quiet",
                     name=f"Take out: {name}", enabled=visitor.may_change()),
        data_key=path,
    )  # fmt: skip


async def _add_rail(visitor: Visitor, event: Event) -> None:
    path = f"{event.data['path']}.rails"
    rails = visitor.at(path) or []
    taken = {rail.get("side") for rail in rails}
    side = next((edge for edge in _EDGES if edge not in taken), "left")
    await visitor.edit({path: [*rails, {"side": side}]}, event.seen, what=f"{side} rail: added")


async def _drop_rail(visitor: Visitor, event: Event) -> None:
    path = event.data["path"]
    whole = path.rpartition("[")[0]
    last = len(visitor.at(whole) or []) <= 1
    await visitor.edit({whole if last else path: None}, event.seen, what=f"{path}: taken out")


ACTS = {"add-rail": _add_rail, "drop-rail": _drop_rail}
