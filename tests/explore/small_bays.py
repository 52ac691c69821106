"""Small invented jobs for trying arrangements."""

from stowright.app.exploring import first_cut
from stowright.app.loading import load_catalogue, load_job
from stowright.explore.arrangement import space_of
from stowright.explore.judging import Judge

WAGON = """
format = 1
[job]
title = "Choir, music and stands"
[bay]
kind = "wagon"
length = 950
width = 1040
clear_height = 780
[[bay.opening]]
face = "tail"
width = 1000
height = 720
above_ground = 640
[[carry]]
what = "box of scores"
size = [420, 310, 150]
mass = 7
quantity = 2
[[carry]]
what = "stands"
size = [520, 160, 120]
mass = 6
[build]
carcass = "birch-15"
drawer = "birch-12"
drawer_bottom = "birch-9"
front_sheet = "birch-15"
deck_sheet = "birch-18"
"""
TUB = """
format = 1
[job]
title = "Bay alone"
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 480
"""
VAN = """
format = 1
[job]
title = "Van with a side door"
[bay]
kind = "van"
length = 2500
width = 1700
clear_height = 1400
[[bay.opening]]
face = "tail"
width = 1560
height = 1300
[[bay.opening]]
face = "left"
at = 1200
width = 900
height = 1240
"""
TRAY = """
format = 1
[job]
title = "Open tray"
[bay]
kind = "tray"
length = 1800
width = 1750
rail = 300
"""
ALL = {"wagon": WAGON, "tub": TUB, "van": VAN, "tray": TRAY}


def judge_of(text, **only):
    shelf = load_catalogue()
    space = space_of(load_job(text), shelf)
    return Judge(space=space.only(**only), catalogue=shelf, cut=first_cut)


def small_judge():
    """Some two hundred arrangements of a small boot, a dozen of which no other beats."""
    return judge_of(
        WAGON,
        columns=(1, 2),
        widths=("even",),
        heights=("even",),
        rows=("one", "two"),
        fills=("drawers",),
        depth=(0.0, 700.0, 600.0, 500.0),
        height=(468.0, 418.0, 368.0, 318.0),
        deck=("fixed",),
        back=("block",),
        modules=("separate",),
        carcass=("birch-15", "birch-12"),
        drawer=("birch-12",),
        drawer_bottom=("birch-9",),
        front_sheet=("birch-15",),
        deck_sheet=("birch-18", "birch-15"),
    )
