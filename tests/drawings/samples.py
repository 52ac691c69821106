"""An invented unit, built directly as model values, for the tests of the drawings room.

A pickup's tub: two modules side by side that open to the tail, a drawer in each, packers below, a
deck in two pieces and a shaped wing on each side. Holes, grooves, rebates, a lever notch and hand
holes are all there, and no two pieces overlap.
"""

from dataclasses import dataclass, field, replace
from functools import cache

from stowright.model.bay import Arch, Bay, WidthStation
from stowright.model.design import (
    BlockDesign,
    BoxSize,
    Design,
    ModuleDesign,
    Motion,
    OpeningDesign,
    Skew,
    ThicknessInUse,
    UsableBox,
)
from stowright.model.geometry import Box, Span
from stowright.model.job import Build, Job
from stowright.model.part import Feature, Part, PlacedPart

T, T_BOTTOM, T_PACKER = 14.6, 12.0, 10.0
BAY_LENGTH, BAY_WIDTH = 1500.0, 1400.0
MODULE_WIDTH, HEIGHT, DEPTH = 544.0, 425.0, 1438.0
RUN, BOX_HEIGHT, SIDE_SPACE = 1350.0, 375.8, 19.4
GROOVE = 6.0

DENSITY_KG_M3 = 680.0


def hole(at, diameter, *, face="good", depth=0.0, purpose="screws"):
    return Feature(
        kind="pilot" if face[0] in "uv" else "hole",
        face=face,
        at=at,
        size=(diameter,),
        depth=depth or T,
        through=not depth,
        purpose=purpose,
    )


def pocket(kind, at, size, *, face="good", depth=0.0, radius=0.0, purpose=""):
    return Feature(
        kind=kind,
        face=face,
        at=at,
        size=size,
        depth=depth or T,
        through=not depth,
        purpose=purpose or kind,
        radius=radius,
    )


_LETTERS = {"a": (0.0, -1.0, 0.0), "d": (1.0, 0.0, 0.0), "h": (0.0, 0.0, 1.0)}


@dataclass
class Bench:
    """Collects pieces; equal ones become copies of one part."""

    parts: list = field(default_factory=list)
    placed: list = field(default_factory=list)

    def put(
        self,
        piece,
        mark,
        role,
        box,
        lie,
        *,
        body="fixed",
        module="",
        opening="",
        outline=(),
        features=(),
        material="ply-15",
        name="",
    ):
        """Stand a piece in the bay.

        ``box`` holds the ranges across (to the right from the left edge of the block, which lies
        at y = 544.5), into the block and up; ``lie`` says where u, v and w run, as ``+d+h+a``.
        """
        spans = dict(zip("adh", box, strict=True))
        signs = [lie[k : k + 2] for k in (0, 2, 4)]
        size = {letter: round(high - low, 6) for letter, (low, high) in spans.items()}
        corner = {letter: low for letter, (low, _) in spans.items()}
        axes = []
        for sign in signs:
            factor = 1.0 if sign[0] == "+" else -1.0
            if factor < 0.0:
                corner[sign[1]] = spans[sign[1]][1]
            axes.append(tuple(factor * c + 0.0 for c in _LETTERS[sign[1]]))
        length, width, thick = (size[sign[1]] for sign in signs)
        (ux, uy, uz), (vx, vy, vz), w = axes
        cross = (uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx)
        known = next((p for p in self.parts if p.mark == mark), None)
        if known is None:
            self.parts.append(
                Part(
                    mark=mark,
                    name=name or role,
                    role=role,
                    block="drawers",
                    module=module,
                    material=material,
                    length=length,
                    width=width,
                    thickness=thick,
                    outline=outline or ((0, 0), (length, 0), (length, width), (0, width)),
                    quantity=1,
                    grain="long",
                    hand="",
                    mirrored=cross != w,
                    release="A",
                    waits_for="",
                    edges=(),
                    front_edge="",
                    features=tuple(features),
                    mass_kg=0.0,
                    origin_note="face-side lower corner",
                )
            )
        else:
            assert (known.length, known.width, known.thickness) == (length, width, thick), piece
            self.parts[self.parts.index(known)] = replace(known, quantity=known.quantity + 1)
        copy = 1 + sum(p.mark == mark for p in self.placed)
        self.placed.append(
            PlacedPart(
                id=piece,
                mark=mark,
                copy=copy,
                body=body,
                block="drawers",
                module=module,
                opening=opening,
                role=role,
                origin=(corner["d"], 544.5 - corner["a"], corner["h"]),
                axes=tuple(axes),
                length=length,
                width=width,
                thickness=thick,
            )
        )


def _carcass(bench, number, a0):
    a1, z0, z1 = a0 + MODULE_WIDTH, T_PACKER, T_PACKER + HEIGHT
    at, module = f"drawers/{number}/", str(number)
    screws = [hole((d, T / 2), 5.0) for d in (60, 500, 940, 1380)]
    screws += [hole((d, HEIGHT - T / 2), 5.0) for d in (30, 70, 700, 740, 1380)]
    line = [hole((d, 64.6), 4.0, depth=11.0, purpose="runner") for d in range(60, 1400, 160)]
    for side, lie in (("left", "+d+h+a"), ("right", "+d+h-a")):
        a = (a0, a0 + T) if side == "left" else (a1 - T, a1)
        bench.put(
            f"{at}side-{side}",
            "A1" if side == "left" else "A2",
            "carcass-side",
            (a, (0, DEPTH), (z0, z1)),
            lie,
            module=module,
            features=screws + line,
            name=f"side, {side}",
        )
    between = (a0 + T, a1 - T)
    width = between[1] - between[0]
    pilots = [
        hole((d, T / 2), 3.0, face=edge, depth=40.0)
        for edge in ("v0", "v1")
        for d in (60, 500, 940, 1380)
    ]
    anchors = [hole((95.0, width / 2), 9.0, purpose="anchor")]
    bench.put(
        f"{at}floor",
        "A3",
        "carcass-floor",
        (between, (0, DEPTH), (z0, z0 + T)),
        "+d-a+h",
        module=module,
        features=pilots + anchors,
        name="floor",
    )
    bench.put(
        f"{at}back",
        "A4",
        "carcass-back",
        (between, (DEPTH - T, DEPTH), (z0 + T, z1 - T)),
        "+a+h-d",
        module=module,
        features=[pocket("hand-hole", (200, 180), (100, 35), radius=17.5)],
        name="back",
    )
    for k, start in enumerate((0.0, 680.0, DEPTH - 90.0)):
        bench.put(
            f"{at}rail-{k + 1}",
            "A5",
            "carcass-rail",
            (between, (start, start + 90), (z1 - T, z1)),
            "+a+d+h",
            module=module,
            name="top rail",
        )


def _drawer(bench, number, name, a0):
    left, right = a0 + T + SIDE_SPACE, a0 + MODULE_WIDTH - T - SIDE_SPACE
    z0, d0 = T_PACKER + T + 10.0, T
    z1, d1 = z0 + BOX_HEIGHT, d0 + RUN
    words = {"body": name, "module": str(number), "opening": name}
    groove = pocket("groove", (0.0, 10.0), (RUN, T_BOTTOM), depth=GROOVE)
    rebates = [pocket("rebate", (u, 0.0), (T, BOX_HEIGHT), depth=GROOVE) for u in (0, RUN - T)]
    for side, lie in (("left", "+d+h+a"), ("right", "+d+h-a")):
        a = (left, left + T) if side == "left" else (right - T, right)
        bench.put(
            f"{name}/box-side-{side}",
            "D1" if side == "left" else "D2",
            "drawer-side",
            (a, (d0, d1), (z0, z1)),
            lie,
            features=[groove, *rebates],
            name=f"drawer side, {side}",
            **words,
        )
    between = (left + T - GROOVE, right - T + GROOVE)
    width = between[1] - between[0]
    hand = pocket("hand-hole", (width / 2 - 50, 300), (100, 30), radius=15.0)
    inner = [pocket("groove", (0.0, 10.0), (width, T_BOTTOM), depth=GROOVE)]
    bench.put(
        f"{name}/box-front",
        "D3",
        "drawer-inner-front",
        (between, (d0, d0 + T), (z0, z1)),
        "-a+h+d",
        features=[*inner, hand],
        name="inner front",
        **words,
    )
    bench.put(
        f"{name}/box-back",
        "D4",
        "drawer-inner-back",
        (between, (d1 - T, d1), (z0, z1)),
        "+a+h-d",
        features=inner,
        name="inner back",
        **words,
    )
    bench.put(
        f"{name}/box-bottom",
        "D5",
        "drawer-bottom",
        (between, (d0 + T - GROOVE, d1 - T + GROOVE), (z0 + 10, z0 + 10 + T_BOTTOM)),
        "+d-a+h",
        material="ply-12",
        name="bottom",
        **words,
    )
    front_width = MODULE_WIDTH - 2 * T - 6.0
    high = HEIGHT - 2 * T - 6.0
    lever = (
        (0, 0),
        (front_width, 0),
        (front_width, high),
        (300, high),
        (300, high - 40),
        (200, high - 40),
        (200, high),
        (0, high),
    )
    bench.put(
        f"{name}/front",
        "D6",
        "drawer-front",
        (
            (a0 + T + 3, a0 + MODULE_WIDTH - T - 3),
            (0, T),
            (T_PACKER + T + 3, T_PACKER + T + 3 + high),
        ),
        "+a+h-d",
        outline=lever,
        features=[pocket("notch", (200, high - 40), (100, 40))],
        name="front",
        **words,
    )


def _rest(bench):
    for k, start in enumerate((0.0, 470.0, 940.0, DEPTH - 90.0)):
        for number, a0 in ((1, 0.0), (2, MODULE_WIDTH + 1.0)):
            bench.put(
                f"drawers/{number}/packer-{k + 1}",
                "P1",
                "packer",
                ((a0, a0 + MODULE_WIDTH), (start, start + 90), (0, T_PACKER)),
                "+a+d+h",
                module=str(number),
                material="ply-9",
                name="packer",
            )
    top = T_PACKER + HEIGHT
    width = 2 * MODULE_WIDTH + 1.0
    fingers = [hole((60.0, 60.0), 35.0, purpose="finger hole")]
    for k, (low, high) in enumerate(((0.0, 725.0), (726.0, DEPTH))):
        bench.put(
            f"deck/{k + 1}",
            f"K{k + 1}",
            "deck",
            ((0, width), (low, high), (top, top + T)),
            "+a+d+h",
            features=fingers,
            name="deck",
        )
    for side, a in (("left", (-140.0, -6.0)), ("right", (width + 6, width + 140))):
        lie = "+d+a+h" if side == "left" else "+d-a+h"
        shaped = ((0, 12), (400, 6), (900, 0), (DEPTH, 8), (DEPTH, 134), (0, 134))
        bench.put(
            f"wing-{side}",
            "W1" if side == "left" else "W2",
            "wing",
            (a, (0, DEPTH), (top, top + T)),
            lie,
            outline=shaped,
            name=f"wing, {side}",
        )


def _bay():
    half = BAY_WIDTH / 2
    return Bay(
        kind="tub",
        length=BAY_LENGTH,
        width=BAY_WIDTH,
        rail=500.0,
        clear_height=None,
        height_from="rib-top",
        reading_error=2.0,
        widths=(WidthStation(at=0.0, height=0.0, left=half, right=half, centred=True),),
        between=(),
        lengths=(),
        tail_lean=(),
        arches=tuple(
            Arch(side=side, start=450.0, end=1150.0, height=230.0, reach=140.0)
            for side in ("left", "right")
        ),
        cove=0.0,
        diagonals=None,
        keep_out=(),
        no_drill=(),
        anchors=(),
        belts=(),
        access=(),
        floor=None,
        openings=(),
        tailgate=None,
        people_space=None,
    )


def _job(build):
    return Job(
        title="Two drawers",
        client="",
        units="mm",
        rules="light-envelope",
        road="sealed",
        cut_grid=0.0,
        bay=_bay(),
        vehicle=None,
        carry=(),
        blocks=(),
        decks=(),
        build=build,
        measured_thickness=(),
        sheets=(),
        done=(),
        spoiled=(),
        readings=(),
        assumed=(),
        warnings=(),
    )


def _span_box(x, y, z):
    return Box(
        x=Span(low=x[0], high=x[1]), y=Span(low=y[0], high=y[1]), z=Span(low=z[0], high=z[1])
    )


def _opening(number, name, a0, build):
    at = f"drawers/{number}/"
    width, height = MODULE_WIDTH - 2 * T, HEIGHT - 2 * T
    clear = _span_box(
        (0, DEPTH - T),
        (544.5 - a0 - T - width, 544.5 - a0 - T),
        (T_PACKER + T, T_PACKER + T + height),
    )
    return OpeningDesign(
        name=name,
        fill="drawer",
        block="drawers",
        module=str(number),
        column=number,
        row=1,
        at=(0.0, 544.5 - a0 - T, T_PACKER + T),
        width=width,
        height=height,
        depth=DEPTH - T,
        clear=clear,
        bounds=(f"{at}side-left", f"{at}side-right", f"{at}floor", f"{at}rail-1"),
        box=BoxSize(width=width - 2 * SIDE_SPACE, height=BOX_HEIGHT, length=RUN),
        front=(width - 6.0, height - 6.0),
        front_thickness=T,
        runner=None,
        usable=clear,
        gross_kg=40.0,
        contents_kg=30.0,
        carried=(),
        build=build,
    )


def _block(build):
    whole = _span_box((0, DEPTH), (-544.5, 544.5), (0, T_PACKER + HEIGHT))
    modules = tuple(
        ModuleDesign(
            name=str(number),
            block="drawers",
            width=MODULE_WIDTH,
            height=HEIGHT,
            depth=DEPTH,
            openings=(name,),
            mass_kg=40.0,
            doorway=None,
            box=_span_box(
                (0, DEPTH), (544.5 - a0 - MODULE_WIDTH, 544.5 - a0), (T_PACKER, T_PACKER + HEIGHT)
            ),
        )
        for number, name, a0 in ((1, "meters", 0.0), (2, "ropes", MODULE_WIDTH + 1.0))
    )
    return BlockDesign(
        name="drawers",
        face="tail",
        usable=UsableBox(block="drawers", box=whole, limits=()),
        box=whole,
        face_at=0.0,
        axes=((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        packer_height=T_PACKER,
        modules=modules,
        openings=(_opening(1, "meters", 0.0, build), _opening(2, "ropes", MODULE_WIDTH + 1, build)),
    )


@cache
def two_drawers():
    """Return the sample design: 38 placed pieces of 16 marks, two bodies that slide."""
    bench, build = Bench(), Build()
    for number, name, a0 in ((1, "meters", 0.0), (2, "ropes", MODULE_WIDTH + 1.0)):
        _carcass(bench, number, a0)
        _drawer(bench, number, name, a0)
    _rest(bench)
    return Design(
        job=_job(build),
        thicknesses=tuple(
            ThicknessInUse(material=name, t=t, t_min=t, t_max=t, source="catalogue")
            for name, t in (("ply-15", T), ("ply-12", T_BOTTOM), ("ply-9", T_PACKER))
        ),
        skew=Skew(lean=0.0, low=0.0, high=0.0, cause="not measured"),
        blocks=(_block(build),),
        wings=(),
        parts=tuple(bench.parts),
        placed=tuple(bench.placed),
        fixings=(),
        joints=(),
        anchors=(),
        gaps=(),
        motions=tuple(
            Motion(
                body=name, kind="slide", axis=(-1.0, 0.0, 0.0), travel=RUN, pivot=None, droop=10.0
            )
            for name in ("meters", "ropes")
        ),
        loose=(),
        sums=(),
        assumed=(),
        warnings=(),
        hardware=(),
        empty_kg=80.0,
        contents_kg=60.0,
        centre=(719.0, 0.0, 220.0),
        centre_empty=(719.0, 0.0, 200.0),
    )


def shifted(design, piece, by):
    """Return the design with one piece moved by a vector."""
    return replace(
        design,
        placed=tuple(
            replace(p, origin=tuple(o + s for o, s in zip(p.origin, by, strict=True)))
            if p.id == piece
            else p
            for p in design.placed
        ),
    )
