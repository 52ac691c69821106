"""The texts of the starters. Every reading is invented; ``$names`` are put in by ``starters``."""

from __future__ import annotations

from dataclasses import dataclass, field

__all__ = ["BARE", "BARE_HEAD", "STARTERS", "StarterText"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StarterText:
    """One starter: its text and the invented readings that go into it, in millimetres.

    ``along`` are readings that grow with the bay's length, ``across`` with its width, ``upright``
    with its height; ``fixed`` stay as they are.
    """

    text: str
    along: dict[str, float]
    across: dict[str, float]
    upright: dict[str, float]
    fixed: dict[str, float] = field(default_factory=dict)


_HEAD = """\
# $what
# Every number is an invented example: put your own readings in its place.
# A length is a number in the unit of the job, or a text with a unit: "1195 mm", "47 1/16 in".
# x runs from the tail to the cab, y to the left, z up; zero is the middle of the floor's tail end.
format = 1

[job]
title = $title
client = $client
units = $units            # unit of bare numbers here, and of what is printed: "mm" or "in"
rules = "light-envelope"  # set of restraint accelerations; a cautious envelope, no crash rating
road = "sealed"           # sealed or rough: vertical shock on contents and floors
cut_grid = $cut_grid      # sizes are snapped to what the saw can be set to; 0 for any size

"""

_BUILD = """
[build]                   # materials and methods; any key may also stand in one block or fill
method = "hand"           # hand, panel or cnc
carcass = "ply-15"        # plain ply is unknown, non-structural: the cautious values
drawer = "ply-15"
drawer_bottom = "ply-12"
deck_sheet = "ply-15"
runner = "auto"           # the longest that fits and carries the load
front_gap = $front_gap    # gap around a front
packers = {how = "on-ribs", sheet = "ply-12"}   # on-ribs, in-valleys or none
# measured_thickness = {ply-15 = [$t_15], ply-12 = [$t_12]}   # caliper your batch before cutting
"""

_VEHICLE = """
# [vehicle]               # without it the mass checks come back "not proved"
# wheelbase = $wheelbase
# rear_axle_x = $rear_axle_x
# weighed = {front_axle = 1150, rear_axle = 900, includes = ["full tank"], note = "weighbridge"}
# limits = {front_axle = 1480, rear_axle = 1850, total = 3200}   # kilograms, from the plate
"""

_TUB = """\
[bay]
kind = "tub"
length = $length          # on the floor, from the inside of the shut tailgate to the headboard
width = $width            # on the floor, at the tail
rail = $rail              # floor to the top of the side rail
# clear_height = …        # floor to canopy or lid; leave it out when the tub is open above
reading_error = $error    # a single tape reading may be out by this much
widths = [ {at = 0, height = 0, width = $width},         # three stations on the floor,
           {at = $middle, height = 0, width = $width_middle},
           {at = $front, height = 0, width = $width_front},
           {at = $middle, height = $deck, width = $width_up} ]   # and one at deck height
between = [ {at = $middle, height = 0, width = $between} ]       # clear between the arches
arches = [ {side = "left", start = $arch_start, end = $arch_end, height = $arch, reach = $reach},
           {side = "right", start = $arch_start, end = $arch_end, height = $arch, reach = $reach} ]
# diagonals = [$diagonal, $diagonal]   # corner to corner on the floor: how square the bay is
anchors = [
  {what = "tie-down", surface = "floor", x = $anchor_x, y = $anchor_y, thread = "M8"},
  {what = "tie-down", surface = "floor", x = $anchor_x, y = -$anchor_y, thread = "M8"} ]
no_drill = [   # look from below first
  {what = "fuel tank", surface = "floor", x = [$tank_a, $tank_b], y = [-$tank_y, 0]} ]
floor = {material = "steel", thickness = $sheet, rib_depth = $rib, rib_pitch = $pitch}

[[bay.opening]]           # the doorway; no height: loaded from above
face = "tail"
width = $door
above_ground = $ground

[bay.tailgate]
hinge = "down"
length = $gate
open_top = -$gate_low     # its upper surface when open, from the floor

[[carry]]                 # what has to go in
what = "tool case"
size = [$case_l, $case_w, $case_h]   # length, width, height
mass = 9.5                # kilograms
quantity = 2
goes_in = "left drawer"

[[block]]
name = "drawers"
face = "tail"
place = "fill"
columns = [ {width = "share", stack = [ {fill = "drawer", name = "left drawer"} ]},
            {width = "share", stack = [ {fill = "drawer", name = "right drawer"} ]} ]
clear_at_face = $face     # room for handles and levers behind the shut tailgate
wings = {left = "fixed", right = "fixed"}   # what covers the space over the arches

[[deck]]
name = "deck"
over = ["drawers"]
kind = "fixed"            # fixed or lift-out
below_rail = $below_rail
back = "block"
"""

_VAN = """\
[bay]
kind = "van"
length = $length          # on the floor, from the inside of the shut doors to the bulkhead
width = $width            # on the floor, at the tail
clear_height = $height    # floor to the underside of the roof
reading_error = $error    # a single tape reading may be out by this much
widths = [ {at = 0, height = 0, width = $width},
           {at = $middle, height = 0, width = $width_middle},
           {at = $middle, height = $waist, width = $width_up} ]
between = [ {at = $middle, height = 0, width = $between} ]
arches = [ {side = "left", start = $arch_start, end = $arch_end, height = $arch, reach = $reach},
           {side = "right", start = $arch_start, end = $arch_end, height = $arch, reach = $reach} ]
anchors = [
  {what = "lashing eye", surface = "floor", x = $anchor_x, y = $anchor_y, thread = "M8"},
  {what = "lashing eye", surface = "floor", x = $anchor_x, y = -$anchor_y, thread = "M8"} ]
floor = {material = "steel", thickness = $sheet, rib_depth = $rib, rib_pitch = $pitch}

[[bay.opening]]           # tail doors
face = "tail"
width = $door
height = $door_height
above_ground = $ground

[[bay.opening]]           # side door: where it begins along x, and how wide it is
face = "left"
at = $side_at
width = $side_door
height = $door_height
above_ground = $ground

[bay.people_space]        # people sit in the same space as the load
barrier = "bulkhead"      # none, rated or bulkhead

[[carry]]
what = "stove box"
size = [$case_l, $case_w, $case_h]
mass = 7
goes_in = "kitchen"

[[block]]                 # a low block of two drawers at the tail
name = "drawers"
face = "tail"
x = [0, $block_end]
columns = [ {width = "share", stack = [ {fill = "drawer", name = "kitchen"} ]},
            {width = "share", stack = [ {fill = "drawer", name = "ropes"} ]} ]
clear_at_face = $face

[[deck]]
name = "bed"
over = ["drawers"]
top = $block_top          # no rail in a van: the deck says how high it lies
"""

_WAGON = """\
[bay]
kind = "wagon"
length = $length          # on the floor, from the inside of the shut tail door to the seat back
width = $width            # on the floor, at the tail
clear_height = $height    # floor to headlining
reading_error = $error    # a single tape reading may be out by this much
between = [ {at = $middle, height = 0, width = $between} ]
arches = [ {side = "left", start = $arch_start, end = $arch_end, height = $arch, reach = $reach},
           {side = "right", start = $arch_start, end = $arch_end, height = $arch, reach = $reach} ]
lengths = [ {height = 0, y = 0, length = $length},       # seat backs lean: read the length twice
            {height = $waist, y = 0, length = $length_up} ]
tail_lean = [ {height = $waist, x = $lean} ]              # how far the tail glass leans in
anchors = [
  {what = "tie-down", surface = "floor", x = $anchor_x, y = $anchor_y, thread = "M8"},
  {what = "tie-down", surface = "floor", x = $anchor_x, y = -$anchor_y, thread = "M8"} ]
belts = [ {what = "seat belt", surface = "floor", x = $belt_x, y = $belt_y} ]   # never shared

[[bay.opening]]
face = "tail"
width = $door
height = $door_height
above_ground = $ground

[bay.tailgate]
hinge = "up"

[bay.people_space]        # people sit in the same space as the load
barrier = "none"          # none, rated or bulkhead

[[carry]]
what = "camera case"
size = [$case_l, $case_w, $case_h]
mass = 8
goes_in = "drawer"

[[carry]]
what = "portable fridge"
size = [$fridge_l, $fridge_w, $fridge_h]
mass = 28
keep_upright = true
clear_above = $lid        # its lid opens upwards
goes_in = "fridge tray"

[[block]]                 # a drawer with a shelf over it, beside a sliding tray
name = "boot"
face = "tail"
z = [0, $block_top]       # no rail in a wagon: the block says how high it stands
columns = [ {width = "share", stack = [ {fill = "drawer", name = "drawer", height = $drawer},
                                        {fill = "open", name = "shelf"} ]},
            {width = $tray, stack = [ {fill = "tray", name = "fridge tray", lock = "in-out"} ]} ]
clear_at_face = $face
"""

_TRAY = """\
[bay]
kind = "tray"
length = $length          # on the floor, from tail to headboard
width = $width            # between the inner faces of the canopy's sides
clear_height = $height    # floor to the underside of the canopy
reading_error = $error    # a single tape reading may be out by this much
anchors = [
  {what = "cross rail", surface = "floor", x = $anchor_x, y = $anchor_y, thread = "M10"},
  {what = "cross rail", surface = "floor", x = $anchor_x, y = -$anchor_y, thread = "M10"} ]
floor = {material = "steel", thickness = $sheet, rib_depth = 0, ribs_run = "none"}

[[bay.opening]]           # a lift-up door on each side: where it begins along x, and how wide it is
face = "left"
at = $side_at
width = $side_door
height = $door_height
above_ground = $ground

[[bay.opening]]
face = "right"
at = $side_at
width = $side_door
height = $door_height
above_ground = $ground

[[carry]]
what = "pump and hose"
size = [$case_l, $case_w, $case_h]
mass = 19
goes_in = "pump bay"

[[block]]                 # one block opens to each side
name = "left side"
face = "left"
x = [$block_start, $block_end]
y = [$half, $block_side]
z = [0, $block_top]
columns = [ {width = "share", stack = [
              {fill = "drawer", name = "left drawer"}, {fill = "open", name = "left shelf"} ]},
            {width = "share", stack = [ {fill = "open", name = "pump bay"} ]} ]

[[block]]
name = "right side"
face = "right"
x = [$block_start, $block_end]
y = [-$block_side, -$half]
z = [0, $block_top]
columns = [ {width = "share", stack = [
              {fill = "drawer", name = "right drawer"}, {fill = "open", name = "right shelf"} ]},
            {width = "share", stack = [ {fill = "locker", door = "drop", name = "locker"} ]} ]
"""

_CASE = {"case_l": 460.0, "case_w": 360.0, "case_h": 180.0}
_FIXED = {"error": 2.0, "front_gap": 3.0, "t_15": 14.6, "t_12": 11.8, "face": 45.0, **_CASE}
_SHEET = {"sheet": 0.8, "rib": 9.0, "pitch": 62.0}

STARTERS: dict[str, StarterText] = {
    "tub": StarterText(
        text=_HEAD + _TUB + _BUILD + _VEHICLE,
        along={
            "length": 1484.0, "middle": 740.0, "front": 1470.0, "arch_start": 392.0,
            "arch_end": 1094.0, "anchor_x": 95.0, "tank_a": 500.0, "tank_b": 1400.0,
            "diagonal": 2046.0, "wheelbase": 3200.0, "rear_axle_x": 620.0,
        },
        across={
            "width": 1408.0, "width_middle": 1404.0, "width_front": 1398.0, "width_up": 1428.0,
            "between": 1108.0, "reach": 146.0, "anchor_y": 480.0, "tank_y": 600.0, "door": 1336.0,
        },
        upright={"rail": 488.0, "deck": 400.0, "arch": 226.0},
        fixed=_FIXED | _SHEET
        | {"ground": 805.0, "gate": 520.0, "gate_low": 15.0, "below_rail": 45.0},
    ),
    "van": StarterText(
        text=_HEAD + _VAN + _BUILD + _VEHICLE,
        along={
            "length": 2540.0, "middle": 1250.0, "arch_start": 640.0, "arch_end": 1430.0,
            "anchor_x": 150.0, "side_at": 1500.0, "side_door": 920.0, "block_end": 1300.0,
            "wheelbase": 3300.0, "rear_axle_x": 1030.0,
        },
        across={
            "width": 1690.0, "width_middle": 1700.0, "width_up": 1660.0, "between": 1260.0,
            "reach": 216.0, "anchor_y": 520.0, "door": 1430.0,
        },
        upright={
            "height": 1390.0, "waist": 900.0, "arch": 270.0, "door_height": 1280.0,
            "block_top": 430.0,
        },
        fixed=_FIXED | _SHEET | {"ground": 560.0},
    ),
    "wagon": StarterText(
        text=_HEAD + _WAGON + _BUILD + _VEHICLE,
        along={
            "length": 1060.0, "middle": 420.0, "arch_start": 240.0, "arch_end": 880.0,
            "length_up": 990.0, "anchor_x": 120.0, "belt_x": 1010.0, "wheelbase": 2840.0,
            "rear_axle_x": 560.0,
        },
        across={
            "width": 1330.0, "between": 1090.0, "reach": 118.0, "anchor_y": 460.0,
            "belt_y": 380.0, "door": 1120.0,
        },
        upright={"height": 905.0, "waist": 450.0, "arch": 240.0, "door_height": 800.0,
                 "block_top": 560.0},
        fixed=_FIXED
        | {"ground": 720.0, "lean": 24.0, "lid": 60.0, "fridge_l": 620.0, "fridge_w": 380.0,
           "fridge_h": 340.0, "tray": 460.0, "drawer": 240.0},
    ),
    "tray": StarterText(
        text=_HEAD + _TRAY + _BUILD + _VEHICLE,
        along={
            "length": 1780.0, "anchor_x": 220.0, "side_at": 150.0, "side_door": 1480.0,
            "block_start": 250.0, "block_end": 1450.0, "wheelbase": 3200.0, "rear_axle_x": 640.0,
        },
        across={"width": 1780.0, "anchor_y": 600.0, "half": 120.0, "block_side": 880.0},
        upright={"height": 860.0, "door_height": 760.0, "block_top": 600.0},
        fixed=_FIXED | {"sheet": 3.0, "ground": 900.0},
    ),
}  # fmt: skip

#: A job that says nothing of a bay but its length, width and height: nobody has measured it yet.
BARE_HEAD = """\
# Length, width and height are there to begin with: type your own over them. Nothing else is said
# of this bay yet. Add stations, arches, doorways and anchors as you read them.
format = 1

[job]
title = $title
client = ""
units = $units
cut_grid = $cut_grid

[bay]
kind = $kind
length = $length          # on the floor, from the tail
width = $width            # on the floor, at the tail
$height_key = $height
reading_error = $error    # a single tape reading may be out by this much

[[block]]
name = "drawers"
face = "tail"
"""
#: What a bare job asks for besides, with its sizes in millimetres and in inches.
BARE: dict[str, tuple[str, dict[str, tuple[float, float]]]] = {
    "tub": ('\n[[deck]]\nname = "deck"\nover = ["drawers"]\ndeck_sheet = "birch-21"\n', {}),
    "van": ("x = [0, $deep]\nz = [0, $high]\n", {"deep": (1300.0, 50.0), "high": (450.0, 18.0)}),
    "wagon": ("z = [0, $high]\n", {"high": (300.0, 12.0)}),
    "tray": ("z = [0, $high]\n", {"high": (500.0, 20.0)}),
}
