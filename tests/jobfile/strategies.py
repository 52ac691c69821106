"""Plausible jobs for law tests: every kind of bay, face, fill and option, mostly feasible.

``job_texts()`` gives job files, ``jobs()`` the jobs read from them. Sizes are whole or half
millimetres (or sixteenths of an inch), in the ranges of the handbook's table of load spaces.
"""

from dataclasses import dataclass, field
from math import hypot

import tomlkit
from hypothesis import strategies as st

from stowright.jobfile import read_job

__all__ = ["job_tables", "job_texts", "jobs"]

KINDS = ("tub", "van", "wagon", "tray")
#: Length, width and height (rail for a tub, clear height for the others) by kind. [mm]
SPACES = {
    "tub": ((1400, 2450), (1330, 1700), (440, 570)),
    "van": ((2000, 4400), (1500, 1890), (1250, 1900)),
    "wagon": ((900, 1900), (1000, 1450), (750, 1050)),
    "tray": ((1600, 2400), (1600, 1860), (600, 1000)),
}
FAMILIES = ("ply", "birch", "softwood", "hardwood", "poplar")


@dataclass
class Room:
    """What the bay leaves to the blocks. [mm]"""

    kind: str
    units: str
    length: int
    width: int
    clear: int
    height: int
    names: list = field(default_factory=list)

    def mm(self, value):
        """Write a length in the job's unit: plain millimetres, or inches to 1/16."""
        if self.units == "mm":
            return value
        sixteenths = round(value / 25.4 * 16)
        whole, part = divmod(sixteenths, 16)
        if part == 0:
            return whole
        return sixteenths / 16 if part in (4, 8, 12) else f"{whole} {part}/16"

    def fine(self, value):
        """Write a small length without rounding it to 1/16 of an inch."""
        return value if self.units == "mm" else f"{value} mm"

    def all(self, values):
        return [self.mm(value) for value in values]


def whole(low, high):
    return st.integers(int(low), int(max(low, high)))


def maybe(draw, strategy, chance=50):
    """Draw, or None, so that a key is left out."""
    return draw(strategy) if draw(st.integers(0, 99)) < chance else None


def given_keys(**keys):
    return {key: value for key, value in keys.items() if value is not None}


@st.composite
def job_tables(draw, kinds=KINDS):
    """A job file as plain tables."""
    kind = draw(st.sampled_from(kinds))
    length, width, height = (draw(whole(*limits)) for limits in SPACES[kind])
    units = draw(st.sampled_from(["mm", "mm", "in"]))
    room = Room(kind, units, length, width, width, height)
    bay = draw(bays(room))
    blocks, decks = draw(bodies(room, bay))
    tables = {
        "format": 1,
        "job": given_keys(
            title=f"An invented {kind}",
            units=units,
            road=maybe(draw, st.sampled_from(["sealed", "rough"])),
            rules=maybe(draw, st.sampled_from(["light-envelope", "au", "us-393"]), 30),
            cut_grid=maybe(draw, st.sampled_from([0, "0.5 mm", "1/32 in", "1 mm"])),
        ),
        "bay": bay,
        "block": blocks,
        "build": draw(builds(room)),
    }
    if decks:
        tables["deck"] = decks
    carry = draw(st.lists(carries(room), max_size=3))
    if decks and draw(st.integers(0, 99)) < 30:
        carry.append(draw(deck_cargo(room, decks[0].get("name", "deck"))))
    if carry:
        tables["carry"] = carry
    vehicle = maybe(draw, vehicles(room))
    if vehicle is not None:
        tables["vehicle"] = vehicle
    sheets = draw(st.lists(sheets_in_hand(room), max_size=2))
    if sheets:
        tables["sheet"] = sheets
    return tables


def job_texts(kinds=KINDS):
    """A job file as text."""
    return job_tables(kinds).map(tomlkit.dumps)


def jobs(kinds=KINDS):
    """A job, read from a job file without mistakes."""
    return job_texts(kinds).map(read_job)


@st.composite
def bays(draw, room):
    mm, length, width = room.mm, room.length, room.width
    bay = {"kind": room.kind, "length": mm(length), "width": mm(width)}
    bay["rail" if room.kind == "tub" else "clear_height"] = mm(room.height)
    bay |= given_keys(
        reading_error=maybe(draw, st.sampled_from([1, 2, 3]).map(room.fine)),
        cove=maybe(draw, whole(0, 25).map(room.fine), 40),
        floor=maybe(draw, floors(room)),
    )
    if bay.get("floor", {}).get("rib_depth") and draw(st.booleans()):
        bay["height_from"] = "valley"
    taper, lean = draw(whole(-10, 10)), draw(whole(-20, 30))
    if draw(st.booleans()):
        bay["widths"] = [
            {"at": mm(length * share // 10), "height": 0, "width": mm(width + taper * share // 10)}
            for share in (0, 5, 10)
        ]
        level = mm(min(room.height, 600) * 8 // 10)
        top = {"at": mm(length // 2), "height": level}
        half = (width + lean) // 2
        bay["widths"].append(
            top
            | draw(
                st.sampled_from(
                    [{"width": mm(width + lean)}, {"left": mm(half), "right": mm(half + 1)}]
                )
            )
        )
    arches = [] if room.kind == "tray" else draw(arch_pairs(room))
    if arches:
        bay["arches"] = arches
    if draw(st.integers(0, 99)) < 30:
        difference = draw(whole(-4, 4))
        across = round(hypot(length, width))
        bay["diagonals"] = room.all([across + difference, across])
    bay |= draw(things_in(room))
    bay["opening"] = [draw(tail_doors(room))]
    if room.kind in ("tub", "wagon") and draw(st.booleans()):
        gate = {
            "tub": {"hinge": "down", "length": mm(520), "open_top": mm(-15)},
            "wagon": {"hinge": "up"},
        }
        bay["tailgate"] = gate[room.kind]
    if room.kind in ("van", "wagon") and draw(st.booleans()):
        bay["people_space"] = {"barrier": draw(st.sampled_from(["none", "rated", "bulkhead"]))}
    return bay


@st.composite
def arch_pairs(draw, room):
    """Two arches, or none; what they leave between them goes to the room."""
    if draw(st.integers(0, 99)) < 20:
        return []
    reach = draw(whole(80, min(230, (room.width - 860) // 2)))
    start = room.length * draw(whole(20, 35)) // 100
    end = start + min(draw(whole(450, 850)), room.length * 55 // 100)
    height = draw(whole(180, min(280, room.height // 2)))
    offset = draw(whole(0, 3))
    room.clear = room.width - 2 * reach - offset
    return [
        {
            "side": side,
            "start": room.mm(start + shift),
            "end": room.mm(end),
            "height": room.mm(height),
            "reach": room.mm(reach + shift),
        }
        for side, shift in (("left", 0), ("right", offset))
    ]


@st.composite
def floors(draw, room):
    depth = draw(st.sampled_from([0, 6, 9, 12]))
    return given_keys(
        material=maybe(draw, st.sampled_from(["steel", "aluminium"])),
        thickness=room.fine(draw(st.sampled_from([0.7, 0.8, 1.2]))),
        rib_depth=room.fine(depth),
        rib_pitch=maybe(draw, whole(50, 90).map(room.mm)) if depth else None,
        ribs_run=draw(st.sampled_from(["lengthwise", "crosswise"])) if depth else "none",
    )


@st.composite
def things_in(draw, room):
    """Anchors, no-drill areas, keep-outs, belts, access."""
    mm, half = room.mm, room.width // 2
    found = {}
    if draw(st.booleans()):
        y = room.clear // 2 - 80
        found["anchors"] = [
            given_keys(
                what="tie-down",
                surface="floor",
                x=mm(draw(whole(60, 160))),
                y=mm(side * y),
                thread=draw(st.sampled_from(["M8", "M10", ""])),
                tension=maybe(draw, st.sampled_from([2000, "unknown"])),
            )
            for side in (1, -1)
        ]
    if draw(st.booleans()):
        a = draw(whole(0, room.length // 2))
        found["no_drill"] = [
            {
                "what": "tank",
                "surface": "floor",
                "x": room.all([a, room.length]),
                "y": room.all([-half, -40]),
            }
        ]
    if draw(st.integers(0, 99)) < 20:
        box = {"x": room.all([0, 90]), "y": room.all([half - 70, half]), "z": room.all([150, 320])}
        found["keep_out"] = [{"what": "lamp housing"} | box]
    if draw(st.integers(0, 99)) < 20:
        found["belts"] = [
            {"what": "belt", "surface": "floor", "x": mm(room.length - 60), "y": mm(half - 90)}
        ]
    if draw(st.integers(0, 99)) < 20:
        found["access"] = [
            {"what": "winch", "x": room.all([0, 80]), "y": room.all([-60, 60]), "lift_out": True}
        ]
    return found


@st.composite
def tail_doors(draw, room):
    door = {"face": "tail", "width": room.mm(room.width - draw(whole(20, 90)))}
    if room.kind != "tub":
        door["height"] = room.mm(room.height - draw(whole(20, 80)))
    return door | given_keys(
        sill_rise=maybe(draw, whole(0, 20).map(room.mm), 30),
        above_ground=maybe(draw, whole(500, 900).map(room.mm)),
    )


@st.composite
def bodies(draw, room, bay):
    """One to three blocks and the decks over them."""
    low = room.height * 6 // 10 if room.kind == "tray" else 330 if room.kind == "wagon" else 460
    height = draw(whole(300, max(300, min(low, room.height - 120))))
    if room.kind == "tub":
        height = room.height - 60
    layouts = ["one", "two"]
    if room.length >= 2000 and room.kind in ("van", "tray"):
        layouts += ["tail and side"]
    if room.kind == "tray":
        layouts += ["both sides"]
    layout = draw(st.sampled_from(layouts))
    rooms = {
        "one": [("tail", room.clear, room.length, {})],
        "two": _two_at_the_tail(room),
        "tail and side": _tail_and_side(room),
        "both sides": _both_sides(room),
    }[layout]
    if layout in ("tail and side", "both sides"):
        bay["opening"] += [
            {
                "face": face,
                "at": room.mm(room.length // 4),
                "width": room.mm(room.length * 3 // 4 - 20),
                "height": room.mm(room.height - 40),
            }
            for face in ("left", "right")
        ]
    blocks = [
        draw(blocks_in(room, face, across - 40, height, place | {"name": f"block {letter}"}))
        for (face, across, _, place), letter in zip(rooms, "ABC", strict=False)
    ]
    tails = [block["name"] for block in blocks if block.get("face", "tail") == "tail"]
    if room.kind == "tub":
        decks = maybe(draw, decks_over(room, tails, None), 80)
        return blocks, [] if decks is None else [decks]
    if draw(st.booleans()) and layout != "both sides":
        return blocks, [draw(decks_over(room, [block["name"] for block in blocks], height))]
    for block in blocks:
        block["z"] = room.all([0, height])
    return blocks, []


def _two_at_the_tail(room):
    half = room.clear // 2
    if room.clear < 900:
        return [("tail", room.clear, room.length, {})]
    return [
        ("tail", half, room.length, {"place": "left", "y": room.all([5, room.width // 2])}),
        ("tail", half, room.length, {"place": "right", "y": room.all([-(room.width // 2), -5])}),
    ]


def _tail_and_side(room):
    end = room.length * 55 // 100
    side = [end + 60, room.length - 60]
    return [
        ("tail", room.clear, end, {"x": room.all([0, end])}),
        ("left", side[1] - side[0], room.width // 2, {"x": room.all(side)}),
    ]


def _both_sides(room):
    span = [room.length // 4 + 20, room.length - 60]
    return [
        (face, span[1] - span[0], room.width // 2, {"x": room.all(span)})
        for face in ("left", "right")
    ]


@st.composite
def blocks_in(draw, room, face, across, height, place):
    count = draw(whole(1, max(1, min(3, across // 360))))
    fixed = draw(whole(0, count - 1)) if count > 1 and draw(st.booleans()) else None
    columns = []
    for number in range(count):
        size = draw(whole(260, across // count - 60)) if number == fixed else None
        columns.append(draw(columns_in(room, size, height, across // count)))
    return place | given_keys(
        face=face,
        modules=maybe(draw, st.sampled_from(["separate", "shared"])),
        over_arches=maybe(draw, st.sampled_from(["no", "offer"]), 20),
        clear_at_face=maybe(draw, whole(25, 60).map(room.fine)),
        wings=maybe(draw, wings(), 40) if face == "tail" else None,
        columns=columns,
        carcass=maybe(draw, st.sampled_from(["ply-12", "birch-15", "ply-18"]), 20),
        top=maybe(draw, st.sampled_from(["rails", "panel"]), 20),
        lining=maybe(draw, st.sampled_from([2, {"carcass": 1}]).map(lambda each: each), 10)
        if room.units == "mm"
        else None,
    )


def wings():
    word = st.sampled_from(["fixed", "lid", "none"])
    return st.fixed_dictionaries({"left": word, "right": word})


@st.composite
def columns_in(draw, room, size, height, about):
    count = draw(whole(1, max(1, min(3, (height - 40) // 190))))
    stack = [draw(fills_in(room, number, count, height)) for number in range(count)]
    return given_keys(
        width=room.mm(size) if size else maybe(draw, st.just("share")),
        weight=None if size else maybe(draw, st.sampled_from([1, 1.25]), 20),
        least=None if size else maybe(draw, whole(120, max(120, about // 2)).map(room.mm), 20),
        drawer=maybe(draw, st.sampled_from(["ply-12", "birch-12"]), 10),
        stack=stack,
    )


@st.composite
def fills_in(draw, room, number, count, height):
    kind = draw(
        st.sampled_from(
            ["drawer"] * 5 + ["tray", "open", "locker", "blank"] + ["through"] * (count == 1)
        )
    )
    room.names.append(f"{kind} no. {len(room.names) + 1}")
    fixed = (
        maybe(draw, whole(150, max(150, height // count - 50)), 30)
        if count > 1 and number == 0
        else None
    )
    slides = kind in ("drawer", "tray")
    return given_keys(
        fill=kind,
        name=room.names[-1] if draw(st.booleans()) else None,
        height=room.mm(fixed) if fixed else maybe(draw, st.just("share")),
        door=draw(st.sampled_from(["drop", "lift"])) if kind == "locker" else None,
        sides=maybe(draw, whole(0, 80).map(room.mm)) if kind == "tray" else None,
        lock=maybe(draw, st.sampled_from(["in", "in-out", True]), 20) if slides else None,
        net=maybe(draw, st.booleans(), 20) if kind == "open" else None,
        cable_way=maybe(draw, st.just(30).map(room.mm), 10) if kind == "open" else None,
        lining=maybe(draw, st.just(2).map(room.fine), 10) if kind == "drawer" else None,
        front_gap=maybe(draw, st.sampled_from([2, 4]).map(room.fine), 10)
        if kind == "drawer"
        else None,
    )


@st.composite
def decks_over(draw, room, names, height):
    where = (
        {"below_rail": room.mm(draw(whole(30, 60)))}
        if height is None
        else {"top": room.mm(height + 20)}
    )
    return where | given_keys(
        over=names,
        name=maybe(draw, st.just("bed")),
        kind=maybe(draw, st.sampled_from(["fixed", "lift-out"])),
        back=maybe(draw, st.sampled_from(["block", "wall"])),
        overhang=maybe(draw, whole(0, 15).map(room.mm), 20),
    )


@st.composite
def builds(draw, room):
    fine = room.fine
    joint = maybe(draw, st.sampled_from(["butt", "rebate", "housing"]), 40)
    front = maybe(draw, st.sampled_from(["inset", "overlay"]), 30)
    family = draw(st.sampled_from(FAMILIES))
    measured = {f"{family}-15": [14.6, 14.7, 14.5], "ply-12": [11.8, 11.9]}
    return given_keys(
        carcass=maybe(draw, st.just(f"{family}-15")),
        joint=joint,
        joint_depth=fine(draw(whole(3, 6))) if joint in ("rebate", "housing") else None,
        carcass_kind=maybe(draw, st.sampled_from(["box", "frame"]), 30),
        top=maybe(draw, st.sampled_from(["rails", "panel"]), 40),
        rails=maybe(draw, whole(2, 4), 20),
        back=maybe(draw, st.sampled_from(["panel", "frame", "none"]), 30),
        between_fills=maybe(draw, st.sampled_from(["shelf", "rail", "none"]), 40),
        bottom_fit=maybe(draw, st.sampled_from(["between", "planted", "grooved"])),
        front=front,
        lap=fine(draw(whole(3, 6))) if front == "overlay" else None,
        lever=maybe(draw, st.sampled_from(["notch", "narrow", "hand-hole", "none"]), 30),
        side_clear=maybe(draw, whole(3, 12).map(fine), 40),
        end_clear=maybe(draw, whole(5, 20).map(fine), 40),
        back_room=maybe(draw, whole(8, 20).map(fine), 40),
        module_gap=maybe(draw, st.sampled_from([0, 1, 2]).map(fine), 40),
        packers=maybe(draw, packers(), 40),
        handle=maybe(draw, st.just({"projection": fine(12)}), 20),
        grain=maybe(draw, st.sampled_from(["long", "across", "strongest"]), 30),
        measured_thickness={name: [fine(r) for r in given] for name, given in measured.items()}
        if draw(st.booleans())
        else None,
    )


def packers():
    how = st.sampled_from(["on-ribs", "in-valleys", "none"])
    return st.fixed_dictionaries(
        {"how": how}, optional={"sheet": st.sampled_from(["ply-9", "ply-12"])}
    )


@st.composite
def carries(draw, room):
    return given_keys(
        what=draw(st.sampled_from(["meter case", "rope bag", "first aid box"])),
        size=room.all([draw(whole(150, 400)), draw(whole(120, 250)), draw(whole(50, 120))]),
        mass=draw(st.sampled_from([1, 2.5, 6])),
        quantity=maybe(draw, whole(1, 2)),
        keep_upright=maybe(draw, st.booleans()),
        hazard=maybe(draw, st.sampled_from(["", "battery"]), 20),
        used=maybe(draw, st.sampled_from(["daily", "trip", "seldom"])),
    )


@st.composite
def deck_cargo(draw, room, deck):
    """Something that rides on a deck, tied down or not."""
    lash = {"count": draw(whole(2, 6)), "to": "unit"}
    return given_keys(
        what="canvas bag",
        size=room.all([draw(whole(300, 700)), draw(whole(200, 400)), draw(whole(80, 300))]),
        mass=draw(st.sampled_from([4, 12.5, 30])),
        quantity=maybe(draw, whole(1, 2)),
        on=deck,
        at=maybe(draw, st.just(room.all([room.length // 2, 0])), 30),
        lash=maybe(draw, st.just(lash)),
    )


@st.composite
def vehicles(draw, room):
    return given_keys(
        wheelbase=room.mm(draw(whole(2600, 3600))),
        rear_axle_x=room.mm(draw(whole(400, 1100))),
        weighed=maybe(
            draw, st.just({"front_axle": 1100, "rear_axle": 900.5, "includes": ["full tank"]})
        ),
        limits=maybe(draw, st.just({"front_axle": 1480, "rear_axle": 1850, "total": 3200})),
        people=maybe(draw, st.just([{"mass": 80, "x": room.mm(2400)}])),
        tow_ball=maybe(draw, st.just({"mass": 60, "x": room.mm(-1200)}), 20),
        also=maybe(draw, st.just([{"what": "bench out", "mass": -30, "x": room.mm(1700)}]), 20),
    )


@st.composite
def sheets_in_hand(draw, room):
    return given_keys(
        material=draw(st.sampled_from(["ply-12", "ply-15", "birch-15"])),
        size=room.all(
            [draw(st.sampled_from([2440, 1525, 900])), draw(st.sampled_from([1220, 600]))]
        ),
        count=maybe(draw, whole(1, 2)),
        offcut=maybe(draw, st.booleans(), 30),
        defects=maybe(draw, st.just([room.all([0, 0, 80, 60])]), 20),
    )
