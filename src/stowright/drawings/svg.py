"""SVG with real lettering, true size in millimetres. Same scene, same bytes."""

from __future__ import annotations

from math import cos, radians, sin
from xml.sax.saxutils import escape, quoteattr

from stowright.drawings.figures import marks_of
from stowright.drawings.lettering import FAMILY, FONT_WEIGHTS, font_size, text_box, text_width
from stowright.drawings.linetypes import FILLS, PENS, Fill, Ink, Pen
from stowright.drawings.scene import Arc, Circle, Line, Mark, Polyline, Region, Scene, Text
from stowright.model.geometry import Point2

__all__ = ["number", "to_svg"]

_HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}"'
_WHITE = "#ffffff"
#: Shorter texts need no fitting: a mark's one or two letters.
_FITTED_FROM = 3


def number(value: float) -> str:
    """Return a number with at most three decimals, no trailing zeros and no minus zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def to_svg(scene: Scene, *, ink: Ink = "colour") -> str:
    """Return a drawing as an SVG document.

    Args:
        scene: The drawing.
        ink: ``colour``, or ``black`` for plain black on white.
    """
    w, h = number(scene.width), number(scene.height)
    writer = _Writer(height=scene.height, ink=ink)
    body: list[str] = []
    for view in scene.views:
        body.append(f"<g data-view={quoteattr(view.name)}>")
        for item in view.items:
            body += [writer.mark(mark) for mark in marks_of(item)]
        body.append("</g>")
    head = (
        _HEAD.format(w=w, h=h)
        + f' font-family="{FAMILY}, sans-serif" fill="none" stroke-linejoin="round">'
    )
    title = f"<title>{escape(scene.title)}</title>"
    return "\n".join((head, title, *body, "</svg>", ""))


class _Writer:
    """Writes marks; y runs down in SVG."""

    def __init__(self, *, height: float, ink: Ink) -> None:
        self._height = height
        self._ink = ink
        self._strokes: dict[Pen, str] = {pen: self._stroke(pen) for pen in PENS}

    def mark(self, mark: Mark) -> str:
        """Return one mark as an element."""
        match mark:
            case Line():
                (x0, y0), (x1, y1) = mark.start, mark.end
                ends = f"M{self._xy((x0, y0))}L{self._xy((x1, y1))}"
                return f'<path d="{ends}"{self._strokes[mark.pen]}/>'
            case Polyline():
                close = "Z" if mark.closed else ""
                shape = self._path(mark.points) + close
                return f'<path d="{shape}"{self._strokes[mark.pen]}{_about(mark.about)}/>'
            case Region():
                return self._region(mark)
            case Circle():
                return self._circle(mark)
            case Arc():
                return self._arc(mark)
            case Text():
                return self._text(mark)

    def _xy(self, point: Point2) -> str:
        return f"{number(point[0])} {number(self._height - point[1])}"

    def _path(self, points: tuple[Point2, ...]) -> str:
        return "M" + "L".join(self._xy(p) for p in points)

    def _colour(self, pen: Pen) -> str:
        style = PENS[pen]
        return style.colour if self._ink == "colour" else style.black

    def _stroke(self, pen: Pen) -> str:
        style = PENS[pen]
        dashes = ""
        if style.dashes:
            dashes = f' stroke-dasharray="{" ".join(number(d) for d in style.dashes)}"'
        return f' stroke="{self._colour(pen)}" stroke-width="{number(style.width)}"{dashes}'

    def _fill(self, fill: Fill, pen: Pen) -> str:
        if fill == "ink":
            return f' fill="{self._colour(pen)}"'
        shade = FILLS[fill].colour if self._ink == "colour" else FILLS[fill].black
        return f' fill="{shade}"' if shade else ""

    def _region(self, mark: Region) -> str:
        shape = "".join(self._path(ring) + "Z" for ring in (mark.outer, *mark.holes))
        rule = ' fill-rule="evenodd"' if mark.holes else ""
        edge = self._strokes[mark.pen] if mark.pen and mark.fill != "ink" else ""
        fill = self._fill(mark.fill, mark.pen or "lettering")
        return f'<path d="{shape}"{rule}{fill}{edge}{_about(mark.about)}/>'

    def _circle(self, mark: Circle) -> str:
        x, y = number(mark.centre[0]), number(self._height - mark.centre[1])
        fill = self._fill(mark.fill, mark.pen)
        place = f'<circle cx="{x}" cy="{y}" r="{number(mark.radius)}"'
        return f"{place}{fill}{self._strokes[mark.pen]}{_about(mark.about)}/>"

    def _arc(self, mark: Arc) -> str:
        (x, y), r = mark.centre, mark.radius
        a, b = radians(mark.start), radians(mark.end)
        start = self._xy((x + r * cos(a), y + r * sin(a)))
        end = self._xy((x + r * cos(b), y + r * sin(b)))
        large = 1 if (mark.end - mark.start) % 360.0 > 180.0 else 0
        size = number(r)
        shape = f"M{start}A{size} {size} 0 {large} 0 {end}"
        return f'<path d="{shape}"{self._strokes[mark.pen]}/>'

    def _text(self, mark: Text) -> str:
        turn = radians(mark.turn)
        drop = {"base": 0.0, "middle": mark.height / 2.0, "top": mark.height}[mark.rise]
        x = mark.at[0] + drop * sin(turn)
        y = self._height - (mark.at[1] - drop * cos(turn))
        _, weight, slant = FONT_WEIGHTS[mark.weight]
        parts = [
            f'<text x="{number(x)}" y="{number(y)}" font-size="{number(font_size(mark.height))}"',
            f' fill="{self._colour(mark.pen)}"',
            f' text-anchor="{mark.anchor}"' if mark.anchor != "start" else "",
            f' font-weight="{weight}"' if weight != "400" else "",
            f' font-style="{slant}"' if slant != "normal" else "",
            f' transform="rotate({number(-mark.turn)} {number(x)} {number(y)})"'
            if mark.turn
            else "",
            _fitted(mark),
            f"{_about(mark.about)}>{escape(mark.text)}</text>",
        ]
        return (self._clear(mark) if mark.clear else "") + "".join(parts)

    def _clear(self, mark: Text) -> str:
        shape = self._path(text_box(mark)) + "Z"
        return f'<path d="{shape}" fill="{_WHITE}"/>'


def _fitted(mark: Text) -> str:
    """Return the length that a text was laid out for: another font is fitted into it."""
    wide = text_width(mark.text, height=mark.height, weight=mark.weight)
    if len(mark.text) < _FITTED_FROM or not wide > 0.0:
        return ""
    return f' textLength="{number(wide)}" lengthAdjust="spacingAndGlyphs"'


def _about(about: str) -> str:
    return f" data-about={quoteattr(about)}" if about else ""
