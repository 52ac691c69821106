"""Lines, rings, circles and lettering written straight as DXF text (R2010, model space).

A drawing has hundreds of them, and the library that makes the rest of the file takes long for each.
What is written here is what that library would write, entity by entity, which a test compares.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from stowright.model.geometry import Point2

__all__ = ["DxfMarks"]

_BEGIN = b"  0\nSECTION\n  2\nENTITIES\n"
_ANCHORS = {"start": 0, "middle": 1, "end": 2}
_RISES = {"base": 0, "middle": 2, "top": 3}


class DxfMarks:
    """Marks in a file's own units, gathered and then set into the file's text.

    Args:
        next_handle: Gives each mark a handle that the file uses for nothing else.
        owner: Handle of the model space.
    """

    def __init__(self, next_handle: Callable[[], str], owner: str) -> None:
        self._next, self._owner = next_handle, owner
        self._rows: list[str] = []

    def set_into(self, data: bytes) -> bytes:
        """Return a file with the marks at the head of its entities."""
        head, begin, rest = data.partition(_BEGIN)
        return b"".join((head, begin, "".join(self._rows).encode("utf-8"), rest))

    def line(self, start: Point2, end: Point2, *, layer: str) -> None:
        """Add a straight line."""
        self._add("LINE", layer, f"100\nAcDbLine\n{_point(start)}{_point(end, 11)}")

    def run(self, points: Sequence[Point2], *, closed: bool, layer: str) -> None:
        """Add a run of straight lines."""
        body = "".join(_flat(p) for p in points)
        flags = f" 90\n{len(points)}\n 70\n{int(closed)}\n"
        self._add("LWPOLYLINE", layer, f"100\nAcDbPolyline\n{flags}{body}")

    def circle(self, centre: Point2, radius: float, *, layer: str) -> None:
        """Add a circle."""
        self._add("CIRCLE", layer, _circle(centre, radius))

    def arc(self, centre: Point2, radius: float, *, start: float, end: float, layer: str) -> None:
        """Add an arc, counter-clockwise. [degrees]."""
        angles = f"100\nAcDbArc\n 50\n{float(start)}\n 51\n{float(end)}\n"
        self._add("ARC", layer, _circle(centre, radius) + angles)

    def text(
        self,
        words: str,
        at: Point2,
        *,
        height: float,
        turn: float,
        style: str,
        anchor: str,
        rise: str,
        layer: str,
    ) -> None:
        """Add a line of lettering; anchor and rise as in ``scene.Text``."""
        across, up = _ANCHORS[anchor], _RISES[rise]
        turned = f" 50\n{float(turn)}\n" if turn else ""
        aligned = f" 72\n{across}\n" if across else ""
        placed = _point(at, 11)
        raised = f" 73\n{up}\n" if up else ""
        body = f" 40\n{float(height)}\n  1\n{words}\n{turned}  7\n{style}\n{aligned}{placed}"
        self._add("TEXT", layer, f"100\nAcDbText\n{_point(at)}{body}100\nAcDbText\n{raised}")

    def solid(self, rings: Iterable[Sequence[Point2]], *, layer: str) -> None:
        """Add a filled shape with holes."""
        paths = [
            f" 92\n3\n 72\n0\n 73\n1\n 93\n{len(ring)}\n{''.join(_flat(p) for p in ring)} 97\n0\n"
            for ring in rings
        ]
        self._hatch(paths, layer)

    def disc(self, centre: Point2, radius: float, *, layer: str) -> None:
        """Add a filled circle."""
        arc = f" 40\n{float(radius)}\n 50\n0.0\n 51\n360.0\n 73\n1\n 97\n0\n"
        self._hatch([f" 92\n1\n 93\n1\n 72\n2\n{_flat(centre)}{arc}"], layer)

    def _hatch(self, paths: list[str], layer: str) -> None:
        plane = f"{_point((0.0, 0.0))}210\n0.0\n220\n0.0\n230\n1.0\n"
        fill = f"  2\nSOLID\n 70\n1\n 71\n0\n 91\n{len(paths)}\n"
        ends = " 75\n0\n 76\n1\n 98\n0\n"
        self._add("HATCH", layer, f"100\nAcDbHatch\n{plane}{fill}{''.join(paths)}{ends}")

    def _add(self, kind: str, layer: str, body: str) -> None:
        self._rows.append(
            f"  0\n{kind}\n  5\n{self._next()}\n330\n{self._owner}\n"
            f"100\nAcDbEntity\n  8\n{layer}\n{body}"
        )


def _flat(point: Point2) -> str:
    return f" 10\n{float(point[0])}\n 20\n{float(point[1])}\n"


def _point(point: Point2, code: int = 10) -> str:
    x, y = point
    return f" {code}\n{float(x)}\n {code + 10}\n{float(y)}\n {code + 20}\n0.0\n"


def _circle(centre: Point2, radius: float) -> str:
    return f"100\nAcDbCircle\n{_point(centre)} 40\n{float(radius)}\n"
