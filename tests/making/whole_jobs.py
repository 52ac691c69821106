"""Job files over the keys of the contract that change what is built, for law tests."""

from __future__ import annotations

from hypothesis import strategies as st

__all__ = ["job_files"]

FILLS = (
    'fill = "drawer"',
    'fill = "drawer", lock = "in-out"',
    'fill = "drawer", handle = {projection = 35}',
    'fill = "tray"',
    'fill = "tray", sides = 80',
    'fill = "open"',
    'fill = "open", net = true',
    'fill = "locker", door = "drop"',
    'fill = "locker", door = "lift"',
    'fill = "locker", door = "lift", latch = "barrel-bolt"',
    'fill = "through"',
    'fill = "blank"',
)

BAYS = (
    """kind = "tub"
length = {length}
width = {width}
rail = 520
between = [ {{at = 500, height = 0, width = {between}}} ]
arches = [ {{side = "left", {arch}, reach = {reach}}}, {{side = "right", {arch}, reach = {reach}}} ]
anchors = [ {{what = "tie-down", surface = "floor", x = 95, y = 300, thread = "M8"}} ]
no_drill = [ {{what = "tank", surface = "floor", x = [700, 1300], y = [-300, 0]}} ]
floor = {{material = "steel", thickness = 0.8, rib_depth = 9, rib_pitch = 62}}""",
    """kind = "van"
length = {length}
width = {width}
clear_height = 1400
floor = {{material = "plywood", thickness = 9, rib_depth = 0}}
[[bay.opening]]
face = "tail"
width = 1300
height = 1250""",
    """kind = "tray"
length = {length}
width = {width}
rail = 600
floor = {{material = "aluminium", thickness = 3, rib_depth = {rib}, ribs_run = "{run}"}}""",
)

BUILD = {
    "carcass": ("ply-12", "ply-15", "birch-18"),
    "drawer": ("ply-12", "ply-15"),
    "drawer_bottom": ("ply-9", "ply-12"),
    "joint": ("butt", "rebate", "housing"),
    "carcass_kind": ("box", "frame"),
    "top": ("rails", "panel", "deck"),
    "back": ("panel", "frame", "none"),
    "between_fills": ("shelf", "rail", "none"),
    "bottom_fit": ("grooved", "planted", "between"),
    "front": ("inset", "overlay"),
    "lever": ("notch", "narrow", "hand-hole", "none"),
}


@st.composite
def _columns(draw: st.DrawFn, prefix: str) -> str:
    stacks = draw(
        st.lists(st.lists(st.sampled_from(FILLS), min_size=1, max_size=3), min_size=1, max_size=3)
    )
    columns = []
    for i, stack in enumerate(stacks):
        rows = ", ".join(f'{{{fill}, name = "{prefix}{i}{j}"}}' for j, fill in enumerate(stack))
        columns.append(f"{{stack = [{rows}]}}")
    return f"columns = [{', '.join(columns)}]"


@st.composite
def job_files(draw: st.DrawFn) -> str:
    """Draw a job file: one or two blocks, decks, wings, every way of building."""
    reach = draw(st.integers(80, 180))
    width = draw(st.integers(1150, 1900))
    bay = draw(st.sampled_from(BAYS)).format(
        length=draw(st.integers(1250, 2800)),
        width=width,
        reach=reach,
        arch="start = 400, end = 1100, height = 230",
        between=width - 2 * reach,
        rib=draw(st.sampled_from([0, 9, 15])),
        run=draw(st.sampled_from(["lengthwise", "crosswise", "none"])),
    )
    lines = ["format = 1", "[job]", 'title = "generated"', "[bay]", bay]
    two = draw(st.booleans())
    wings = draw(st.sampled_from(["none", "fixed", "lid"]))
    for name in ("b", "c")[: 2 if two else 1]:
        place = "[-500, -20]" if name == "b" else "[20, 500]"
        gap = draw(st.sampled_from([0, 1, 14]))
        lines += [
            "[[block]]",
            f'name = "{name}"',
            'face = "tail"' if two else f'face = "{draw(st.sampled_from(["tail", "left"]))}"',
            f"place = {{y = {place}}}" if two else "",
            f'modules = "{draw(st.sampled_from(["separate", "shared"]))}"',
            f'over_arches = "{draw(st.sampled_from(["no", "no", "yes"]))}"',
            draw(_columns(name)),
            f'wings = {{left = "{wings}", right = "{wings}"}}' if not two else "",
            f"module_gap = {gap}",
        ]
    deck = draw(st.sampled_from(["", "fixed", "lift-out"]))
    if deck:
        over = '["b", "c"]' if two else '["b"]'
        lines += ["[[deck]]", f"over = {over}", f'kind = "{deck}"']
        lines.append(f'back = "{draw(st.sampled_from(["block", "wall"]))}"')
    lines.append("[build]")
    lines += [f'{key} = "{draw(st.sampled_from(words))}"' for key, words in BUILD.items()]
    lines.append(f"handle = {{projection = {draw(st.sampled_from([0, 12, 35]))}}}")
    how = draw(st.sampled_from(["on-ribs", "in-valleys", "none"]))
    lines.append(f'packers = {{how = "{how}", sheet = "ply-12"}}')
    return "\n".join(line for line in lines if line)
