"""Invented bays for the tests of the design room: no vehicle that anyone sells."""

from dataclasses import replace

from stowright.model.bay import (
    Arch,
    Bay,
    BetweenStation,
    KeepOut,
    LengthStation,
    Opening,
    Tailgate,
    TailLean,
    WidthStation,
)
from stowright.model.design import Skew
from stowright.model.geometry import Box, Span
from stowright.model.job import Place

INCH = 25.4

SQUARE = Skew(lean=0.0, low=0.0, high=0.0, cause="not measured")

FILL = Place(word="fill", beside="", x=None, y=None, z=None)


def place(**changes):
    """A place: fill unless changed."""
    return replace(FILL, **changes)


def box(x, y, z):
    """A box from three pairs."""
    return Box(
        x=Span(low=x[0], high=x[1]), y=Span(low=y[0], high=y[1]), z=Span(low=z[0], high=z[1])
    )


def width(at, height, whole=None, *, left=None, right=None):
    """A width station: whole, or two half widths."""
    if whole is not None:
        half = whole / 2.0
        return WidthStation(at=at, height=height, left=half, right=half, centred=True)
    return WidthStation(at=at, height=height, left=left, right=right, centred=False)


def length(height, y, value):
    return LengthStation(height=height, y=y, length=value)


def between(at, height, value):
    return BetweenStation(at=at, height=height, width=value)


def arch(side, start, end, height, reach):
    return Arch(side=side, start=start, end=end, height=height, reach=reach)


def lean(height, x):
    return TailLean(height=height, x=x)


def keep_out(what, x, y, z):
    return KeepOut(what=what, box=box(x, y, z))


def opening(face, width, height=None, *, sill_rise=0.0, above_ground=None, at=None):
    return Opening(
        face=face,
        width=width,
        height=height,
        sill_rise=sill_rise,
        above_ground=above_ground,
        at=at,
    )


def make_bay(**overrides):
    """A bay 1500 long and 1400 wide with nothing in it, unless overridden.

    ``widths`` and ``lengths`` follow the shorthand ``width`` and ``length`` when not given, as the
    job file's reader makes them.
    """
    values = {
        "kind": "tub",
        "length": 1500.0,
        "width": 1400.0,
        "rail": 500.0,
        "clear_height": None,
        "height_from": "rib-top",
        "reading_error": 0.0,
        "between": (),
        "tail_lean": (),
        "arches": (),
        "cove": 0.0,
        "diagonals": None,
        "keep_out": (),
        "no_drill": (),
        "anchors": (),
        "belts": (),
        "access": (),
        "floor": None,
        "openings": (),
        "tailgate": None,
        "people_space": None,
    } | overrides
    values.setdefault("widths", (width(0.0, 0.0, values["width"]),))
    values.setdefault("lengths", (length(0.0, 0.0, values["length"]),))
    return Bay(**values)


def tub(**overrides):
    """A mid-size pickup's tub: taper, arches, lean, cove, a lamp housing, diagonals."""
    return make_bay(
        **{
            "length": 1494.0,
            "width": 1392.0,
            "rail": 486.0,
            "clear_height": 900.0,
            "reading_error": 2.0,
            "widths": (
                width(0.0, 0.0, 1392.0),
                width(740.0, 0.0, left=694.0, right=695.0),
                width(1480.0, 0.0, 1384.0),
                width(740.0, 400.0, 1421.0),
            ),
            "between": (between(500.0, 0.0, 1106.0), between(1000.0, 0.0, 1104.0)),
            "lengths": (
                length(0.0, 0.0, 1494.0),
                length(0.0, 600.0, 1491.0),
                length(400.0, 0.0, 1478.0),
            ),
            "tail_lean": (lean(400.0, 22.0),),
            "arches": (
                arch("left", 402.0, 1105.0, 228.0, 141.0),
                arch("right", 404.0, 1105.0, 229.0, 139.0),
            ),
            "cove": 20.0,
            "diagonals": (2041.0, 2035.0),
            "keep_out": (keep_out("lamp housing", (0.0, 120.0), (590.0, 700.0), (180.0, 420.0)),),
            "openings": (opening("tail", 1328.0, 470.0, above_ground=810.0),),
            "tailgate": Tailgate(hinge="down", length=520.0, open_top=-15.0),
        }
        | overrides
    )


def van(**overrides):
    """A medium van: walls that lean in, arches, a side door on the left."""
    return make_bay(
        **{
            "kind": "van",
            "length": 2610.0,
            "width": 1704.0,
            "rail": None,
            "clear_height": 1395.0,
            "reading_error": 2.0,
            "widths": (
                width(0.0, 0.0, 1700.0),
                width(1300.0, 0.0, left=852.0, right=849.0),
                width(2500.0, 0.0, 1688.0),
                width(1300.0, 1200.0, 1610.0),
            ),
            "lengths": (length(0.0, 0.0, 2610.0), length(1200.0, 0.0, 2544.0)),
            "arches": (
                arch("left", 310.0, 1120.0, 262.0, 214.0),
                arch("right", 312.0, 1124.0, 260.0, 211.0),
            ),
            "openings": (
                opening("tail", 1430.0, 1280.0, sill_rise=0.0, above_ground=560.0),
                opening("left", 1040.0, 1240.0, sill_rise=30.0, above_ground=480.0, at=1420.0),
            ),
            "tailgate": None,
        }
        | overrides
    )


def wagon(**overrides):
    """A wagon with the seats folded: short, leaning tail door, arches all along."""
    return make_bay(
        **{
            "kind": "wagon",
            "length": 1120.0,
            "width": 1340.0,
            "rail": None,
            "clear_height": 920.0,
            "reading_error": 3.0,
            "arches": (
                arch("left", 140.0, 980.0, 315.0, 132.0),
                arch("right", 140.0, 980.0, 315.0, 135.0),
            ),
            "tail_lean": (lean(300.0, 30.0), lean(700.0, 210.0)),
            "openings": (opening("tail", 1090.0, 800.0, sill_rise=20.0, above_ground=720.0),),
            "tailgate": Tailgate(hinge="up", length=900.0, open_top=1700.0),
        }
        | overrides
    )


def tray(**overrides):
    """A flat tray under a canopy, open to tail and both sides."""
    return make_bay(
        **{
            "kind": "tray",
            "length": 1780.0,
            "width": 1810.0,
            "rail": None,
            "clear_height": 940.0,
            "reading_error": 2.0,
            "openings": (
                opening("tail", 1700.0, 860.0, above_ground=930.0),
                opening("left", 1600.0, 840.0, above_ground=930.0, at=90.0),
                opening("right", 1600.0, 840.0, above_ground=930.0, at=90.0),
            ),
        }
        | overrides
    )


def inch_pickup(**overrides):
    """A full-size pickup measured in inches, converted."""
    return make_bay(
        **{
            "length": 78.5 * INCH,
            "width": 65.25 * INCH,
            "rail": 21.75 * INCH,
            "reading_error": INCH / 8.0,
            "between": (between(30.0 * INCH, 0.0, 50.75 * INCH),),
            "arches": (
                arch("left", 24.0 * INCH, 61.0 * INCH, 9.0 * INCH, 7.25 * INCH),
                arch("right", 24.0 * INCH, 61.0 * INCH, 9.0 * INCH, 7.125 * INCH),
            ),
            "openings": (opening("tail", 60.5 * INCH, None, above_ground=34.0 * INCH),),
            "tailgate": Tailgate(hinge="down", length=21.0 * INCH, open_top=0.0),
        }
        | overrides
    )
