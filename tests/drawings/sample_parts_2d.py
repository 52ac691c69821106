"""Hand-made parts as a pickup unit has them: one of each kind that a drawing has to cope with."""

from stowright.model.part import Feature, Part


def _part(**changes):
    row = {
        "mark": "A1",
        "name": "side, left",
        "role": "carcass-side",
        "block": "drawers",
        "module": "1",
        "material": "ply-15",
        "length": 1430.0,
        "width": 409.0,
        "thickness": 14.6,
        "outline": None,
        "quantity": 1,
        "grain": "long",
        "hand": "",
        "mirrored": False,
        "release": "A",
        "waits_for": "",
        "edges": (),
        "front_edge": "",
        "features": (),
        "mass_kg": 4.9,
        "origin_note": "origin at the lower front corner",
    } | changes
    if row["outline"] is None:
        u, v = row["length"], row["width"]
        row["outline"] = ((0.0, 0.0), (u, 0.0), (u, v), (0.0, v))
    return Part(**row)


def hole(u, v, diameter, purpose, *, face="good", depth=14.6, through=True):
    return Feature(
        kind="hole",
        face=face,
        at=(u, v),
        size=(diameter,),
        depth=depth,
        through=through,
        purpose=purpose,
    )


def pilot(face, along, up, purpose, *, depth=32.0, diameter=2.5):
    return Feature(
        kind="pilot",
        face=face,
        at=(along, up),
        size=(diameter,),
        depth=depth,
        through=False,
        purpose=purpose,
    )


def cut(kind, at, size, purpose, *, face="good", depth=14.6, through=True, radius=0.0):
    return Feature(
        kind=kind,
        face=face,
        at=at,
        size=size,
        depth=depth,
        through=through,
        purpose=purpose,
        radius=radius,
    )


def carcass_side(**changes):
    floor = [hole(u, 7.3, 4.5, "screws into the floor") for u in (60, 322, 584, 846, 1108, 1370)]
    rails = [hole(u, 401.7, 4.5, "screws into the rails") for u in (20, 70, 680, 730, 1340, 1390)]
    back = [hole(1422.7, v, 4.5, "screws into the back") for v in (60, 204.5, 349)]
    slots = [hole(u, 74.6, 4.0, "runner, slots first") for u in (32.6, 224.6, 768.6, 1152.6)]
    rounds = [hole(u, 74.6, 2.5, "runner, rounds after the test") for u in (64.6, 416.6, 960.6)]
    features = (*floor, *rails, *back, *slots, *rounds)
    row = {
        "quantity": 2,
        "hand": "left",
        "edges": ("u0",),
        "front_edge": "u0",
        "features": features,
    } | changes
    return _part(**row)


def carcass_side_right():
    return carcass_side(mark="A2", name="side, right", hand="right", mirrored=True)


def drawer_side():
    groove = cut(
        "groove", (0.0, 10.0), (1400.0, 12.2), "groove for the bottom", depth=6.0, through=False
    )
    ends = [
        hole(u, v, 4.5, "screws into front and back")
        for u in (7.3, 1392.7)
        for v in (50.0, 188.0, 326.0)
    ]
    runner = [hole(u, 40.0, 3.0, "runner") for u in (45.0, 237.0, 781.0, 1165.0)]
    return _part(
        mark="B1",
        name="drawer side, left",
        role="drawer-side",
        length=1400.0,
        width=376.0,
        quantity=2,
        features=(groove, *ends, *runner),
        edges=("v1",),
        front_edge="u0",
    )


def notched_front():
    width, height = 509.0, 390.0
    notch = cut(
        "notch", (0.0, 50.0), (32.0, 60.0), "notch to reach the lock lever, left", radius=0.0
    )
    hand = cut("hand-hole", (194.5, 300.0), (120.0, 35.0), "hand-hole", radius=17.5)
    screws = [
        hole(u, v, 4.5, "screws from inside", face="back", depth=10.0, through=False)
        for u in (80.0, 429.0)
        for v in (60.0, 250.0)
    ]
    outline = (
        (0.0, 0.0), (width, 0.0), (width, height), (0.0, height),
        (0.0, 110.0), (32.0, 110.0), (32.0, 50.0), (0.0, 50.0),
    )  # fmt: skip
    return _part(
        mark="B4",
        name="front, meters",
        role="drawer-front",
        length=width,
        width=height,
        outline=outline,
        release="B",
        waits_for="the opening of meters at the face",
        features=(notch, hand, *screws),
        edges=("u0", "u1", "v0", "v1"),
    )


def wing():
    offsets = [
        (0.0, 126.0), (100.0, 128.5), (200.0, 131.0), (300.0, 133.0), (400.0, 20.0),
        (500.0, 18.5), (600.0, 17.0), (700.0, 17.0), (800.0, 18.0), (900.0, 19.5),
        (1000.0, 22.0), (1100.0, 138.0), (1200.0, 139.0), (1300.0, 140.5), (1400.0, 141.0),
        (1494.0, 142.0),
    ]  # fmt: skip
    outline = ((0.0, 0.0), (1494.0, 0.0), *reversed(offsets))
    return _part(
        mark="D2",
        name="wing, left",
        role="wing",
        material="ply-12",
        length=1494.0,
        width=142.0,
        thickness=11.8,
        outline=outline,
        release="B",
        waits_for="the offsets on the installed unit",
        hand="left",
        edges=("v1",),
        front_edge="u0",
    )


def rail():
    pilots = [
        pilot(face, along, 7.3, "screws through the side")
        for face in ("u0", "u1")
        for along in (20.0, 70.0)
    ]
    return _part(
        mark="A5",
        name="top rail",
        role="carcass-rail",
        length=515.0,
        width=90.0,
        quantity=6,
        features=tuple(pilots),
    )


def carcass_floor():
    pilots = [
        pilot(face, along, 7.3, "screws through the side")
        for face in ("v0", "v1")
        for along in (60.0, 322.0, 584.0, 846.0, 1108.0, 1370.0)
    ]
    back = [pilot("u1", along, 7.3, "screws through the back") for along in (80.0, 258.0, 436.0)]
    bolts = [hole(u, v, 9.0, "hold-down bolts, M8") for u, v in ((95.0, 60.0), (1330.0, 455.0))]
    return _part(
        mark="A3",
        name="carcass floor",
        role="carcass-floor",
        length=1430.0,
        width=515.0,
        quantity=2,
        features=(*pilots, *back, *bolts),
        edges=("u0",),
        front_edge="u0",
    )


def rebated_side():
    rebate = cut(
        "rebate", (1415.4, 0.0), (14.6, 409.0), "rebate for the back", depth=7.0, through=False
    )
    housing = cut(
        "slot", (0.0, 200.0), (1415.4, 14.6), "housing for the shelf", depth=5.0, through=False
    )
    return _part(
        mark="A8",
        name="side, left",
        quantity=1,
        hand="left",
        features=(rebate, housing),
        edges=("u0",),
        front_edge="u0",
    )


ALL = {
    "side": carcass_side,
    "side-right": carcass_side_right,
    "drawer-side": drawer_side,
    "front": notched_front,
    "wing": wing,
    "rail": rail,
    "floor": carcass_floor,
    "rebated": rebated_side,
}
