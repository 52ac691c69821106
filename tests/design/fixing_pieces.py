"""Pieces of a two-module unit by hand: the worked example of the geometry page, first column.

Two separate modules 550 x 425 x 1450 with a drawer each, 14.6 everywhere but a 12.0 bottom, on
10.0 packers, facing the tail. Nothing here is made by the makers of the design room.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from stowright.catalogue import load_catalogue
from stowright.design.pieces import JointDraft, Piece
from stowright.model.bay import Bay, Floor, WidthStation
from stowright.model.design import (
    BlockDesign,
    BoxSize,
    ModuleDesign,
    OpeningDesign,
    RunnerFit,
    ThicknessInUse,
    UsableBox,
)
from stowright.model.geometry import Box, Span
from stowright.model.job import Build, Lining
from stowright.model.part import Feature

SHELF = load_catalogue()
T, T_BOTTOM, PACKER = 14.6, 12.0, 10.0

_UNIT = {
    "+x": (1.0, 0.0, 0.0),
    "-x": (-1.0, 0.0, 0.0),
    "+y": (0.0, 1.0, 0.0),
    "-y": (0.0, -1.0, 0.0),
    "+z": (0.0, 0.0, 1.0),
    "-z": (0.0, 0.0, -1.0),
}


def thickness(material, t, *, least=None, most=None):
    return ThicknessInUse(
        material=material,
        t=t,
        t_min=t - 0.5 if least is None else least,
        t_max=t + 0.5 if most is None else most,
        source="measured",
    )


THICKNESS = {
    "ply-15": thickness("ply-15", T, least=14.4, most=14.8),
    "ply-12": thickness("ply-12", T_BOTTOM, least=11.7, most=12.2),
}


def slab(x, y, z):
    return Box(
        x=Span(low=x[0], high=x[1]), y=Span(low=y[0], high=y[1]), z=Span(low=z[0], high=z[1])
    )


def panel(piece_id, role, box, lie, **words):
    """A piece that fills a box; ``lie`` says where u, v and the good face point."""
    spans = {"x": box.x, "y": box.y, "z": box.z}
    origin = {axis: span.low for axis, span in spans.items()}
    for sign in lie:
        if sign[0] == "-":
            origin[sign[1]] = spans[sign[1]].high
    sizes = [round(spans[sign[1]].size, 6) for sign in lie]
    full = {
        "name": piece_id.rsplit("/", 1)[-1],
        "block": "drawers",
        "module": "",
        "opening": "",
        "body": "fixed",
        "material": "ply-15",
    } | words
    return Piece(
        id=piece_id,
        role=role,
        origin=(origin["x"], origin["y"], origin["z"]),
        axes=tuple(_UNIT[sign] for sign in lie),
        length=sizes[0],
        width=sizes[1],
        thickness=sizes[2],
        **full,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    pieces: tuple[Piece, ...]
    drafts: tuple[JointDraft, ...]
    blocks: tuple[BlockDesign, ...]

    @property
    def openings(self):
        return tuple(o for block in self.blocks for o in block.openings)

    def piece(self, piece_id):
        return next(p for p in self.pieces if p.id == piece_id)


def joint(receiver, entering, kind="butt", step="carcass", *, glued=True):
    return JointDraft(
        receiver=receiver,
        entering=entering,
        kind=kind,
        glued=glued,
        step=step,
        purpose=f"{receiver} to {entering}",
    )


def carcass(name, *, left, width=550.0, height=425.0, depth=1450.0, t=T, rails=3):
    """Pieces and joints of one module; ``left`` is the y of its left side's outer face."""
    z0, right = PACKER, left - width
    own = {"module": name}
    at = f"drawers/{name}/"
    whole = (0.0, depth)
    inside = (right + t, left - t)
    side_left = slab(whole, (left - t, left), (z0, z0 + height))
    side_right = slab(whole, (right, right + t), (z0, z0 + height))
    floor = slab(whole, inside, (z0, z0 + t))
    back = slab((depth - t, depth), inside, (z0 + t, z0 + height - t))
    pieces = [
        panel(f"{at}side-left", "carcass-side", side_left, ("+x", "+z", "-y"), **own),
        panel(f"{at}side-right", "carcass-side", side_right, ("+x", "+z", "+y"), **own),
        panel(f"{at}floor", "carcass-floor", floor, ("+x", "+y", "+z"), **own),
        panel(f"{at}back", "carcass-back", back, ("-y", "+z", "-x"), **own),
    ]
    tops = []
    for n in range(rails):
        start = n * (depth - 90.0) / max(rails - 1, 1)
        rail = slab((start, start + 90.0), inside, (z0 + height - t, z0 + height))
        tops.append(panel(f"{at}rail-{n + 1}", "carcass-rail", rail, ("-y", "+x", "+z"), **own))
    sides = (f"{at}side-left", f"{at}side-right")
    inner = (f"{at}floor", *(p.id for p in tops), f"{at}back")
    drafts = [joint(side, piece) for side in sides for piece in inner]
    drafts += [joint(f"{at}floor", f"{at}back")]
    drafts += [joint(tops[-1].id, f"{at}back")] if tops else []
    return (*pieces, *tops), tuple(drafts)


def drawer(name, module, *, left, right, front_low, front_high, low, high, length=1400.0):
    """Pieces and joints of a drawer: ``left`` and ``right`` are the box's outer faces in y."""
    t, own = T, {"module": module, "opening": name, "body": name}
    x0, x1 = t, t + length
    bottom_low = low + 10.0
    groove = Feature(
        kind="groove",
        face="good",
        at=(0.0, 10.0),
        size=(length, T_BOTTOM),
        depth=6.0,
        through=False,
        purpose="groove",
    )
    cross = replace(groove, size=(left - right - 2.0 * t, T_BOTTOM))
    between = (right + t, left - t)
    pieces = (
        panel(
            f"{name}/side-left",
            "drawer-side",
            slab((x0, x1), (left - t, left), (low, high)),
            ("+x", "+z", "-y"),
            hand="left",
            features=(groove,),
            **own,
        ),
        panel(
            f"{name}/side-right",
            "drawer-side",
            slab((x0, x1), (right, right + t), (low, high)),
            ("+x", "+z", "+y"),
            hand="right",
            features=(groove,),
            **own,
        ),
        panel(
            f"{name}/inner-front",
            "drawer-inner-front",
            slab((x0, x0 + t), between, (low, high)),
            ("+y", "+z", "+x"),
            features=(cross,),
            **own,
        ),
        panel(
            f"{name}/inner-back",
            "drawer-inner-back",
            slab((x1 - t, x1), between, (low, high)),
            ("-y", "+z", "-x"),
            features=(cross,),
            **own,
        ),
        panel(
            f"{name}/bottom",
            "drawer-bottom",
            slab(
                (x0 + t - 6.0, x1 - t + 6.0),
                (right + t - 6.0, left - t + 6.0),
                (bottom_low, bottom_low + T_BOTTOM),
            ),
            ("+x", "+y", "+z"),
            material="ply-12",
            **own,
        ),
        panel(
            f"{name}/front",
            "drawer-front",
            slab((0.0, t), (right - 16.4, left + 16.4), (front_low, front_high)),
            ("-y", "+z", "-x"),
            **own,
        ),
    )
    sides = (f"{name}/side-left", f"{name}/side-right")
    ends = (f"{name}/inner-front", f"{name}/inner-back")
    drafts = [joint(side, end, step="drawer") for side in sides for end in ends]
    drafts += [joint(wall, f"{name}/bottom", "groove", step="drawer") for wall in (*sides, *ends)]
    drafts.append(joint(ends[0], f"{name}/front", "lamination", step="front", glued=False))
    return pieces, tuple(drafts)


def runner_fit(*, name="heavy-80-lock", length=1400.0, line=50.0, set_back=T, latch=""):
    runner = SHELF.runner(name)
    return RunnerFit(
        runner=runner,
        size=next(s for s in runner.sizes if s.length == length),
        set_back=set_back,
        line=line,
        line_in_drawer=runner.section / 2.0,
        side_space=runner.side_space.aim,
        lock="",
        latch=latch,
        next_size="",
        why="",
    )


def opening(name, module, bounds, *, at, clear, fit, fill="drawer", build=None):
    return OpeningDesign(
        name=name,
        fill=fill,
        block="drawers",
        module=module,
        column=1,
        row=1,
        at=at,
        width=clear.y.size,
        height=clear.z.size,
        depth=clear.x.size,
        clear=clear,
        bounds=bounds,
        box=BoxSize(width=482.0, height=375.8, length=1400.0) if fit else None,
        front=None,
        front_thickness=T,
        runner=fit,
        usable=clear,
        gross_kg=60.0,
        contents_kg=40.0,
        carried=(),
        build=build or Build(lining=Lining(drawer=0.0, carcass=0.0, bay=0.0)),
    )


def block(openings, modules, box):
    return BlockDesign(
        name="drawers",
        face="tail",
        usable=UsableBox(block="drawers", box=box, limits=()),
        box=box,
        face_at=0.0,
        axes=((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        packer_height=PACKER,
        modules=modules,
        openings=openings,
    )


def module(name, box, openings):
    return ModuleDesign(
        name=name,
        block="drawers",
        width=box.y.size,
        height=box.z.size,
        depth=box.x.size,
        box=box,
        openings=openings,
        mass_kg=0.0,
        doorway=None,
    )


def packers(*, starts=(0.0, 680.0, 1360.0), wide=90.0, y=(-550.0, 550.0)):
    return tuple(
        panel(
            f"drawers/packer-{n}",
            "packer",
            slab((start, start + wide), y, (0.0, PACKER)),
            ("+x", "+y", "+z"),
            material="ply-12",
        )
        for n, start in enumerate(starts, start=1)
    )


def worked_example(*, gap=0.0, fit=None, module_gap_joint=True):
    """The two modules, their drawers, packers and joints."""
    fit = fit or runner_fit()
    pieces, drafts, openings, modules = list(packers()), [], [], []
    for name, drawer_name, left in (("1", "meters", 550.0), ("2", "ropes", -gap)):
        right = left - 550.0
        own, joints = carcass(name, left=left)
        inner, inner_joints = drawer(
            drawer_name,
            name,
            left=left - 34.0,
            right=right + 34.0,
            front_low=27.6,
            front_high=417.4,
            low=34.6,
            high=410.4,
        )
        pieces += [*own, *inner]
        drafts += [*joints, *inner_joints]
        clear = slab((0.0, 1435.4), (right + T, left - T), (24.6, 420.4))
        at = f"drawers/{name}/"
        openings.append(
            opening(
                drawer_name,
                name,
                (f"{at}side-left", f"{at}side-right", f"{at}floor", f"{at}rail-1"),
                at=(0.0, left - T, 24.6),
                clear=clear,
                fit=fit,
            )
        )
        box = slab((0.0, 1450.0), (right, left), (PACKER, 435.0))
        modules.append(module(name, box, (drawer_name,)))
    if module_gap_joint:
        drafts.append(
            joint("drawers/1/side-right", "drawers/2/side-left", "bolted", "modules", glued=False)
        )
    whole = slab((0.0, 1450.0), (-550.0 - gap, 550.0), (PACKER, 435.0))
    return Unit(
        pieces=tuple(pieces),
        drafts=tuple(drafts),
        blocks=(block(tuple(openings), tuple(modules), whole),),
    )


def bay(**changes):
    """A tub without anything that keeps bolts away."""
    base = Bay(
        kind="tub",
        length=1500.0,
        width=1100.0,
        rail=500.0,
        clear_height=None,
        height_from="rib-top",
        reading_error=0.0,
        widths=(WidthStation(at=0.0, height=0.0, left=550.0, right=550.0, centred=True),),
        between=(),
        lengths=(),
        tail_lean=(),
        arches=(),
        cove=0.0,
        diagonals=None,
        keep_out=(),
        no_drill=(),
        anchors=(),
        belts=(),
        access=(),
        floor=Floor(
            material="steel", thickness=0.8, rib_depth=9.0, rib_pitch=62.0, ribs_run="lengthwise"
        ),
        openings=(),
        tailgate=None,
        people_space=None,
    )
    return replace(base, **changes)
