"""A deck piece or wing with what is under it, and how findings about people on it are told."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from stowright.design.deck_spans import DeckSpan, flats_under, spans_under
from stowright.formulas.strips import share_by_stiffness
from stowright.model.catalogue import Material
from stowright.model.finding import Finding
from stowright.model.geometry import Span
from stowright.model.part import PlacedPart
from stowright.proofs.index import Index
from stowright.proofs.judge import About
from stowright.proofs.sheets import PLATE, Sheet, sheet_trials
from stowright.proofs.supported import EdgeName, Field
from stowright.proofs.tried import Trial, advised

__all__ = [
    "PEOPLE",
    "DeckPiece",
    "about_deck",
    "code_of",
    "deck_advised",
    "deck_piece",
    "mirrored_edges",
    "people_told",
    "propped",
    "said",
]

PEOPLE = (
    "loads: knee 1.0 kN on 50 x 50 mm, foot 1.5 kN on 100 x 100 mm, lying 2 kN/m² (judgement; "
    "EN ISO 14122 for working platforms)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckPiece:
    """A deck piece with what is under it."""

    piece: PlacedPart
    name: str
    mark: str
    sheet: Sheet
    spans: tuple[DeckSpan, ...]
    flats: tuple[PlacedPart, ...]
    grain_x: bool
    layer: Sheet | None = None

    def field(self, span: DeckSpan, sheet: Sheet) -> Field:
        """Return a span as a plate: direction 1 along the piece's length."""
        first, second = ("x", "y") if self.grain_x else ("y", "x")
        names: dict[str, EdgeName] = {
            f"low {first}": "low 1",
            f"high {first}": "high 1",
            f"low {second}": "low 2",
            f"high {second}": "high 2",
        }
        sides = (span.x.size, span.y.size) if self.grain_x else (span.y.size, span.x.size)
        return Field(
            sheet=sheet,
            side_1=sides[0],
            side_2=sides[1],
            edges=frozenset(names[edge] for edge in span.held),
        )

    def top_share(self, sheet: Sheet) -> float:
        """Return what the deck takes of a load that a panel under all of it bends with. [-]."""
        if self.layer is None:
            return 1.0
        stiff, other = (max(each.moduli) * each.thickness**3 for each in (sheet, self.layer))
        return share_by_stiffness(stiffness=stiff, others=other)

    def along_1(self, edge: str) -> bool:
        """Say whether an edge lies across direction 1."""
        return edge.endswith("x") == self.grain_x


def deck_piece(index: Index, piece: PlacedPart) -> DeckPiece:
    """Return a deck piece with each different span under it once."""
    part = index.part(piece)
    unique: dict[tuple[int, int, frozenset[str]], DeckSpan] = {}
    for span in spans_under(index, piece):
        unique.setdefault((round(span.x.size), round(span.y.size), mirrored_edges(span)), span)
    return DeckPiece(
        piece=piece,
        name=part.name,
        mark=part.mark,
        sheet=Sheet(
            material=index.material(piece),
            thickness=part.thickness,
            grain_1=None if part.grain == "free" else True,
        ),
        spans=tuple(unique.values()),
        flats=tuple(flats_under(index, piece)),
        grain_x=abs(piece.axes[0][0]) > 0.5,
        layer=_layer(index, piece),
    )


def deck_advised(
    index: Index,
    made: DeckPiece,
    find: Callable[[Sheet], Finding],
    *ways: Iterable[Trial],
    last: Iterable[Trial] = (),
) -> Finding:
    """Return the finding of a deck's own sheet, with what mends it where that can be told here.

    A lift-out deck is divided by the mass of its pieces: of another sheet they are other pieces,
    so that only the whole unit, designed again, tells what a sheet does.
    """
    found = find(made.sheet)
    if any(
        row.name == made.piece.block and row.kind == "lift-out" for row in index.design.job.decks
    ):
        return found
    return advised(found, *sheet_trials(index, made.sheet, find), *ways, last=last)


def propped(
    made: DeckPiece,
    plates: list[DeckSpan],
    find: Callable[[Sheet, list[DeckSpan]], Finding],
    sheets: Iterable[Material],
) -> Iterator[Trial]:
    """Yield trials with an upright under the middle of each span, first of the same sheet."""
    rows = [made.sheet, *(made.sheet.in_sheet(row, thickness=row.thickness) for row in sheets)]
    for sheet in rows:
        for axis, words in (("x", "across the vehicle"), ("y", "along the vehicle")):
            ends = {f"low {axis}", f"high {axis}"}
            if not any(ends <= span.held for span in plates):
                continue
            halves = [
                half
                for span in plates
                for half in (_halves(span, axis) if ends <= span.held else (span,))
            ]
            pitch = max(getattr(span, axis).size for span in halves)
            other = "" if sheet is made.sheet else f" and {sheet.material.name}"
            yield Trial(
                words=f"an upright {words} under the middle of each span, every {pitch:.0f} mm"
                f"{other},",
                find=partial(find, sheet, halves),
            )


def _halves(span: DeckSpan, axis: str) -> tuple[DeckSpan, DeckSpan]:
    """Return the halves of a span that is held at its middle too."""
    own: Span = getattr(span, axis)
    low, high = Span(low=own.low, high=own.middle), Span(low=own.middle, high=own.high)
    on_low, on_high = span.goes_on | {f"high {axis}"}, span.goes_on | {f"low {axis}"}
    if axis == "x":
        return replace(span, x=low, goes_on=on_low), replace(span, x=high, goes_on=on_high)
    return replace(span, y=low, goes_on=on_low), replace(span, y=high, goes_on=on_high)


def _layer(index: Index, piece: PlacedPart) -> Sheet | None:
    """Return the panel that lies under all of a deck, as a sheet along the deck's own directions.

    Panels of several modules side by side count together; the weakest of them stands for all.
    """
    panels = [flat for flat in flats_under(index, piece) if flat.role == "carcass-top"]
    box = index.boxes[piece.id]
    covered = sum(
        index.boxes[panel.id].x.overlap(box.x) * index.boxes[panel.id].y.overlap(box.y)
        for panel in panels
    )
    if not panels or covered < 0.9 * box.x.size * box.y.size:
        return None
    thin = min(panels, key=lambda panel: panel.thickness)
    along = abs(sum(a * b for a, b in zip(thin.axes[0], piece.axes[0], strict=True))) > 0.5
    free = index.part(thin).grain == "free"
    return Sheet(
        material=index.material(thin),
        thickness=thin.thickness,
        grain_1=None if free else along,
    )


def mirrored_edges(span: DeckSpan) -> frozenset[str]:
    """Return how a span's edges are held and go on, left and right taken alike."""
    said = set()
    for axis in ("x", "y"):
        for edge in (f"low {axis}", f"high {axis}"):
            said.add(f"{axis} {edge in span.held} {edge in span.goes_on}")
    return frozenset(said)


def about_deck(made: DeckPiece, code: str, title: str) -> About:
    """Return what a finding about a deck piece says of itself."""
    return About(
        id=f"{code}:{made.piece.id}",
        title=title,
        about=made.mark,
        family=5,
        source=f"{PLATE}; {PEOPLE}",
        standing="from memory",
    )


def said(span: DeckSpan) -> str:
    """Return a span in words."""
    held_edges = ", ".join(sorted(span.held)) or "none"
    return f"span {span.x.size:.0f} x {span.y.size:.0f} mm (x, y), held edges: {held_edges}"


def code_of(made: DeckPiece) -> str:
    """Return the word that the codes of a piece's findings begin with."""
    return "DECK" if made.piece.role == "deck" else "WING"


def people_told(role: str, finding: Finding) -> Finding:
    """Return a finding about people; a wing that is too weak is "not proved" as a place to kneel.

    A wing closes the space over an arch; nobody has to stand on it.
    """
    if role == "deck" or finding.status != "fail":
        return finding
    return replace(
        finding,
        status="not proved",
        needs=("legs or a batten under it before anybody kneels on it: hand loads only",),
    )
