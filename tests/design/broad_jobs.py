"""Random jobs over every key of the contract's blocks, decks and build table, for law tests.

Other than the job file's own strategies these mix every key with every other; many ask for what
does not fit, and must then be told so.
"""

from hypothesis import strategies as st

__all__ = ["broad_jobs"]

BAYS = {
    "tub": """
[bay]
kind = "tub"
length = {length}
width = {width}
rail = {rail}
{more}
[[bay.opening]]
face = "tail"
width = {door}
""",
    "van": """
[bay]
kind = "van"
length = {long}
width = {width}
clear_height = 1350
{more}
[[bay.opening]]
face = "tail"
width = {door}
height = 1290
[[bay.opening]]
face = "left"
at = 300
width = 1100
height = 1200
""",
    "wagon": """
[bay]
kind = "wagon"
length = {length}
width = {width}
clear_height = 850
{more}
[[bay.opening]]
face = "tail"
width = {door}
height = 780
sill_rise = 15
[bay.people_space]
barrier = "none"
""",
    "tray": """
[bay]
kind = "tray"
length = {long}
width = {width}
clear_height = 900
{more}
[[bay.opening]]
face = "left"
at = 100
width = 1400
height = 850
[[bay.opening]]
face = "right"
width = 1400
height = 850
""",
}

FILLS = ["drawer", "drawer", "tray", "open", "locker", "through", "blank"]
SHEETS = ["ply-9", "ply-12", "ply-15", "birch-15", "ply-18", "poplar-12"]


def text_of(value):
    """A value as TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(text_of(each) for each in value) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {text_of(each)}" for key, each in value.items()) + "}"
    return str(value)


def build_keys():
    """Any of the keys of the build table that change shapes, each left out as often as not."""
    return st.fixed_dictionaries(
        {},
        optional={
            "carcass": st.sampled_from(SHEETS[1:]),
            "drawer": st.sampled_from(SHEETS[:4]),
            "drawer_bottom": st.sampled_from(["ply-6", "ply-9", "ply-12"]),
            "front_sheet": st.sampled_from(SHEETS[1:]),
            "joint": st.sampled_from(["butt", "rebate", "housing"]),
            "carcass_kind": st.sampled_from(["box", "frame"]),
            "top": st.sampled_from(["rails", "panel", "deck"]),
            "rails": st.integers(2, 5),
            "rail_width": st.integers(50, 150),
            "back": st.sampled_from(["panel", "frame", "none"]),
            "between_fills": st.sampled_from(["shelf", "rail", "none"]),
            "bottom_fit": st.sampled_from(["between", "planted", "grooved"]),
            "groove_up": st.integers(5, 15),
            "groove_depth": st.integers(3, 8),
            "front": st.sampled_from(["inset", "overlay"]),
            "lever": st.sampled_from(["notch", "narrow", "hand-hole", "none"]),
            "front_gap": st.integers(1, 5),
            "under_gap": st.integers(3, 15),
            "over_gap": st.integers(3, 15),
            "side_clear": st.integers(0, 15),
            "end_clear": st.integers(0, 20),
            "back_room": st.integers(5, 20),
            "module_gap": st.integers(0, 16),
            "packers": st.fixed_dictionaries(
                {"how": st.sampled_from(["on-ribs", "in-valleys", "none"])},
                optional={"sheet": st.sampled_from(["ply-9", "ply-12", "ply-15"])},
            ),
            "lining": st.fixed_dictionaries(
                {},
                optional={key: st.integers(0, 4) for key in ("drawer", "carcass", "bay")},
            ),
            "grain": st.sampled_from(["long", "across", "strongest"]),
            "runner_up": st.integers(0, 10),
            "handle": st.fixed_dictionaries({"projection": st.integers(0, 25)}),
        },
    )


def override():
    """A block's, column's or fill's own few build keys."""
    return st.one_of(st.just({}), st.just({}), some_of(build_keys()))


@st.composite
def some_of(draw, keys):
    found = draw(keys)
    kept = draw(st.sets(st.sampled_from(sorted(found)), max_size=3)) if found else set()
    return {key: found[key] for key in sorted(kept)}


def for_fill(keys):
    """Those build keys that mean something to one fill."""
    allowed = {"drawer", "drawer_bottom", "front_sheet", "bottom_fit", "front", "lever"}
    allowed |= {"front_gap", "under_gap", "over_gap", "back_room", "runner_up", "groove_up"}
    return {key: value for key, value in keys.items() if key in allowed}


LOCKS = st.sampled_from(["in", "out", "in-out"])
OWN_KEYS = {
    "drawer": st.fixed_dictionaries({}, optional={"lock": LOCKS}),
    "tray": st.fixed_dictionaries({"sides": st.integers(0, 40)}, optional={"lock": LOCKS}),
    "locker": st.fixed_dictionaries({"door": st.sampled_from(["drop", "lift"])}),
    "open": st.fixed_dictionaries(
        {},
        optional={
            "net": st.sampled_from([True]),
            "cable_way": st.integers(10, 40),
            "vent": st.integers(20, 120),
        },
    ),
    "through": st.just({}),
    "blank": st.just({}),
}


@st.composite
def fills(draw):
    kind = draw(st.sampled_from(FILLS))
    found = {"fill": kind}
    if draw(st.booleans()):
        found["height"] = draw(st.one_of(st.just("share"), st.integers(80, 150)))
    elif draw(st.booleans()):
        found["weight"] = draw(st.sampled_from([1, 1.5, 2]))
    if draw(st.integers(0, 3)) == 0 and not isinstance(found.get("height"), int):
        found["least"] = draw(st.integers(60, 140))
    return found | draw(OWN_KEYS[kind]) | for_fill(draw(override()))


@st.composite
def columns(draw):
    found = {
        "stack": draw(st.lists(fills(), min_size=1, max_size=draw(st.sampled_from([1, 1, 2, 3]))))
    }
    width = draw(st.integers(0, 5))
    if width == 0:
        found["width"] = draw(st.integers(180, 360))
    elif width == 1:
        found["width"] = "share"
        found["least"] = draw(st.integers(100, 240))
    elif width == 2:
        found["weight"] = draw(st.sampled_from([1, 1.25, 2]))
    return found


@st.composite
def blocks(draw, name, face, where, height):
    found = {"name": name, "face": face}
    found |= where
    if height is not None and "z" not in found:
        found["z"] = [draw(st.sampled_from([0, 0, 0, 0, 90])), height]
    found["modules"] = draw(st.sampled_from(["separate", "shared"]))
    found["over_arches"] = draw(st.sampled_from(["no", "no", "no", "yes", "offer"]))
    if draw(st.booleans()):
        found["clear_at_face"] = draw(st.integers(20, 70))
    if draw(st.booleans()):
        side = st.sampled_from(["fixed", "lid", "none"])
        found["wings"] = {"left": draw(side), "right": draw(side)}
    found |= draw(override())
    found["columns"] = draw(st.lists(columns(), min_size=1, max_size=draw(st.integers(1, 3))))
    return found


@st.composite
def places(draw, kind, face, index, before):
    """Where a block goes: words, beside another, ranges."""
    long = 2200 if kind in {"van", "tray"} else 1400
    if index and draw(st.booleans()):
        return {"beside": before}
    which = draw(st.integers(0, 3))
    if which == 0:
        return {"place": draw(st.sampled_from(["fill", "left", "right", "tail", "cab"]))}
    if which == 1:
        half = long // 2
        return {"x": [0, half - 20] if index == 0 else [half + 20, long]}
    if which == 2 and face == "tail":
        return {"y": [10, 850] if index == 0 else [-850, -10]}
    return {}


@st.composite
def broad_jobs(draw):
    """A job file as text."""
    kind = draw(st.sampled_from(sorted(BAYS)))
    width = draw(st.integers(1150, 1800))
    more = draw(bay_extras(kind))
    bay = BAYS[kind].format(
        length=draw(st.integers(900, 1600)),
        long=draw(st.integers(1800, 3400)),
        width=width,
        rail=draw(st.integers(420, 560)),
        door=width - draw(st.integers(10, 300)),
        more=more,
    )
    texts = ['format = 1\n[job]\ntitle = "An invented job"']
    if draw(st.booleans()):
        texts.append(
            f"cut_grid = {draw(st.sampled_from(['0', '1', chr(34) + '1/32 in' + chr(34)]))}"
        )
    texts.append(bay)
    faces = {"tub": ["tail"], "wagon": ["tail"], "van": ["tail", "left"], "tray": ["left", "right"]}
    names: list[str] = []
    height = None if kind == "tub" and draw(st.booleans()) else draw(st.integers(320, 560))
    for index in range(draw(st.integers(1, 3))):
        face = draw(st.sampled_from(faces[kind] + ["tail"]))
        where = draw(places(kind, face, index, names[-1] if names else ""))
        table = draw(blocks(f"block {index + 1}", face, where, height))
        names.append(table["name"])
        texts.append("[[block]]\n" + lines_of(table))
    if draw(st.booleans()):
        over = names if draw(st.booleans()) else names[:1]
        deck = {"over": over, "kind": draw(st.sampled_from(["fixed", "lift-out"]))}
        deck["back"] = draw(st.sampled_from(["block", "wall"]))
        deck["overhang"] = draw(st.integers(0, 60))
        if kind != "tub" or height is not None:
            deck["top"] = (height or 400) + 20
        elif draw(st.booleans()):
            deck["below_rail"] = draw(st.integers(0, 80))
        texts.append("[[deck]]\n" + lines_of(deck))
    texts.append("[build]\n" + lines_of(draw(build_keys())))
    return "\n".join(texts)


def lines_of(table):
    return "\n".join(f"{key} = {text_of(value)}" for key, value in table.items())


@st.composite
def bay_extras(draw, kind):
    """Arches, cove, lean, floor, keep-outs."""
    lines = []
    if kind != "tray" and draw(st.booleans()):
        start, high = draw(st.integers(100, 400)), draw(st.integers(160, 260))
        reach = draw(st.integers(60, 200))
        lines.append(
            "arches = ["
            + ", ".join(
                text_of(
                    {
                        "side": side,
                        "start": start,
                        "end": start + 450,
                        "height": high + up,
                        "reach": reach + up,
                    }
                )
                for side, up in (("left", 0), ("right", draw(st.integers(0, 20))))
            )
            + "]"
        )
    if draw(st.booleans()):
        lines.append(f"cove = {draw(st.integers(0, 30))}")
    if draw(st.booleans()):
        lines.append(f"reading_error = {draw(st.integers(0, 4))}")
    if draw(st.booleans()):
        lines.append(f"tail_lean = [ {{height = 400, x = {draw(st.integers(5, 40))}}} ]")
    if draw(st.booleans()):
        run = draw(st.sampled_from(["lengthwise", "crosswise", "none"]))
        lines.append(
            'floor = {material = "steel", thickness = 0.8, rib_depth = 9, rib_pitch = 62, '
            f'ribs_run = "{run}"}}'
        )
    if draw(st.integers(0, 3)) == 0:
        lines.append(
            'keep_out = [ {what = "lamp housing", x = [0, 120], y = [480, 700], z = [180, 420]} ]'
        )
    return "\n".join(lines)
