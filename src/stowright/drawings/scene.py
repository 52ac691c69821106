"""A drawing as plain data: what is drawn, where, with which pen.

All coordinates are millimetres on paper, x to the right, y up, origin at the lower left corner of
the paper. A ``View`` gathers the items of one view and says at which scale and where they stand,
so that any paper point leads back to its point on the part (``View.model``) and a CAD file can be
written at true size. Lettering heights are heights of capitals, as ISO 3098 counts them.

Items are of two kinds. *Marks* are what a back end draws as it is: Line, Polyline, Region, Arc,
Circle, Text. *Figures* are things of drawing practice: Dimension, Running, Leader, Hatch, Balloon,
Arrow, Symbol; ``figures.marks_of`` turns them into marks, and a CAD back end may use its own
entities instead.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from stowright.drawings.linetypes import Fill, Pen
from stowright.model.geometry import Point2

__all__ = [
    "Arc",
    "Arrow",
    "Balloon",
    "Circle",
    "Dimension",
    "Figure",
    "Hatch",
    "Item",
    "Leader",
    "Line",
    "Mark",
    "Polyline",
    "Region",
    "Running",
    "Scene",
    "Symbol",
    "SymbolKind",
    "Text",
    "View",
]

type Weight = Literal["regular", "bold", "italic"]
type Anchor = Literal["start", "middle", "end"]
type Rise = Literal["base", "middle", "top"]
type SymbolKind = Literal[
    "first-angle",
    "third-angle",
    "anchor",
    "anchor-new",
    "belt",
    "register",
    "datum",
    "section-arrow",
    "centroid",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line."""

    start: Point2
    end: Point2
    pen: Pen = "visible"


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline:
    """A run of straight lines; ``closed`` joins the last point to the first.

    Attributes:
        about: Mark or id of the thing drawn, for programs that pick it.
    """

    points: tuple[Point2, ...]
    closed: bool = False
    pen: Pen = "visible"
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A filled shape with holes. ``pen`` None draws no edge."""

    outer: tuple[Point2, ...]
    holes: tuple[tuple[Point2, ...], ...] = ()
    fill: Fill = "tint"
    pen: Pen | None = None
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A circular arc, counter-clockwise from ``start`` to ``end``. [degrees]."""

    centre: Point2
    radius: float
    start: float
    end: float
    pen: Pen = "visible"


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle."""

    centre: Point2
    radius: float
    pen: Pen = "visible"
    fill: Fill = "none"
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of lettering.

    Attributes:
        at: The anchor point.
        height: Height of capitals. [mm]
        anchor: Which end of the text stands at ``at``.
        rise: What of its height stands at ``at``: base line, middle or top of the capitals.
        turn: Counter-clockwise. [degrees]
        clear: True paints the paper white behind it.
    """

    text: str
    at: Point2
    height: float = 2.5
    anchor: Anchor = "start"
    rise: Rise = "base"
    turn: float = 0.0
    weight: Weight = "regular"
    pen: Pen = "lettering"
    clear: bool = False
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A linear dimension between two points, measured along x or y.

    Attributes:
        start, end: Where the extension lines start (on the outline).
        axis: Direction that is measured.
        line_at: y of the dimension line for axis x, x of it for axis y.
        value: What it says, in model millimetres.
        text: What is printed.
        text_at: Middle of the text along the axis; None is the middle of the line.
        arrows_out: True when the arrows point inwards from outside.
        height: Lettering height.
    """

    start: Point2
    end: Point2
    axis: Literal["x", "y"]
    line_at: float
    value: float
    text: str
    text_at: float | None = None
    arrows_out: bool = False
    height: float = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """Running dimensions from one datum, along x or y (ISO 129-1: superimposed running).

    Attributes:
        datum: The datum point, where zero is.
        points: The points located, in rising order along the axis.
        line_at: y of the dimension line for axis x, x of it for axis y.
        texts_at: Where each text stands along the axis, zero first; texts that would collide have
            been moved apart and their lines bend to them.
        values: Model millimetres of each point.
        texts: What is printed, zero first (one more than ``values``).
        out: Length of the extension beyond the dimension line, up to its text.
    """

    datum: Point2
    points: tuple[Point2, ...]
    axis: Literal["x", "y"]
    line_at: float
    texts_at: tuple[float, ...]
    values: tuple[float, ...]
    texts: tuple[str, ...]
    out: float = 3.0
    side: Literal[-1, 1] = -1
    height: float = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Leader:
    """A leader with a note: ``points`` from its tip to the landing, then the text lines.

    Attributes:
        head: What its tip carries.
        lines: The note, a line each, top first.
        side: Whether the note stands to the right or the left of the landing's end.
        clear: True paints the paper white behind the note.
    """

    points: tuple[Point2, ...]
    lines: tuple[str, ...]
    head: Literal["arrow", "dot", "none"] = "arrow"
    side: Literal["right", "left"] = "right"
    height: float = 2.5
    weight: Weight = "regular"
    clear: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch:
    """Hatching of a cut surface.

    Attributes:
        angle: Of the lines. [degrees]
        spacing: Between lines. [mm on paper]
    """

    outer: tuple[Point2, ...]
    holes: tuple[tuple[Point2, ...], ...] = ()
    angle: float = 45.0
    spacing: float = 1.5
    pen: Pen = "hatching"


@dataclass(frozen=True, slots=True, kw_only=True)
class Balloon:
    """A ring with a mark in it, led to what it names; ``target`` None has no leader."""

    centre: Point2
    text: str
    target: Point2 | None = None
    radius: float = 4.0
    height: float = 2.5
    head: Literal["arrow", "dot"] = "dot"


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrow:
    """An arrow from tail to tip.

    Attributes:
        style: ``line`` is a thin arrow, ``double`` has a head at each end, ``block`` is a broad
            outlined arrow that shows a movement.
        size: Length of the head. [mm]
    """

    tail: Point2
    tip: Point2
    style: Literal["line", "double", "block"] = "line"
    size: float = 2.5
    pen: Pen = "dimension"
    fill: Fill = "paper"


@dataclass(frozen=True, slots=True, kw_only=True)
class Symbol:
    """A symbol of drawing practice, ``size`` high, about its centre."""

    kind: SymbolKind
    at: Point2
    size: float = 5.0
    turn: float = 0.0
    text: str = ""


type Mark = Line | Polyline | Region | Arc | Circle | Text
type Figure = Dimension | Running | Leader | Hatch | Balloon | Arrow | Symbol
type Item = Mark | Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """The items of one view, in the order they are drawn.

    Attributes:
        name: ``good face``, ``section A-A``, ``frame`` …
        scale: Paper millimetres per model millimetre.
        at: Paper point of the model's origin.
        mirrored: True when the model's x runs to the left.
        items: What is drawn, in paper millimetres.
    """

    name: str
    items: tuple[Item, ...]
    scale: float = 1.0
    at: Point2 = (0.0, 0.0)
    mirrored: bool = False

    def paper(self, point: Point2) -> Point2:
        """Return the paper point of a model point. [mm]."""
        x, y = point
        across = -x if self.mirrored else x
        return (self.at[0] + across * self.scale, self.at[1] + y * self.scale)

    def model(self, point: Point2) -> Point2:
        """Return the model point of a paper point. [mm]."""
        across = (point[0] - self.at[0]) / self.scale
        return (-across if self.mirrored else across, (point[1] - self.at[1]) / self.scale)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A whole drawing.

    Attributes:
        name: File name without its ending: ``part-A1``.
        title: In words.
        width, height: Of the paper (or of the figure, for one without a frame). [mm]
        views: In drawing order.
        scale: Paper millimetres per model millimetre of the main view; a CAD file is written at
            1 / scale so that the main view comes out at true size.
        projection: ``first`` or ``third`` where views are arranged, else empty.
    """

    name: str
    title: str
    width: float
    height: float
    views: tuple[View, ...]
    scale: float = 1.0
    projection: Literal["", "first", "third"] = ""

    @property
    def items(self) -> Iterator[Item]:
        """Every item, in drawing order."""
        for view in self.views:
            yield from view.items

    def view(self, name: str) -> View:
        """Return a view by name; it is an error of the caller's to ask for one that is not there.

        Raises:
            KeyError: When there is none.
        """
        for view in self.views:
            if view.name == name:
                return view
        raise KeyError(name)
