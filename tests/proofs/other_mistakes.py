"""The 25 mistakes by other routes: edits of the shipped examples, what catches them, what mends."""

from dataclasses import dataclass, field
from pathlib import Path

__all__ = ["OTHERS", "Other", "changed", "example"]

EXAMPLES = Path(__file__).parents[2] / "examples"
type Edits = tuple[tuple[str, str], ...]


@dataclass(frozen=True, kw_only=True)
class Other:
    """A mistake on another job.

    Attributes:
        edits, more: What makes the mistake: texts replaced, and text put at the end.
        caught_by: Proof that catches it, with the status that it comes out as.
        says: Words of its advice or of what it needs.
        mend, mend_more: What follows the advice, edited into the job with the mistake.
    """

    mistake: int
    job: str
    caught_by: str
    status: str
    says: str
    edits: Edits = ()
    more: str = ""
    mend: Edits = ()
    mend_more: str = ""
    instead: bool = field(default=False)

    @property
    def name(self):
        return f"{self.mistake} {self.job} {self.caught_by}"

    @property
    def text(self):
        return changed(example(self.job), self.edits) + self.more

    @property
    def mended(self):
        more = "" if self.instead else self.more
        return changed(changed(example(self.job), self.edits) + more, self.mend) + self.mend_more


def example(job):
    return (EXAMPLES / job / "job.toml").read_text(encoding="utf-8")


def changed(text, edits):
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    return text


def reading(opening, what, values):
    return f'\n[[reading]]\nof = {{opening = "{opening}", what = "{what}"}}\nvalues = {values}\n'


def cut(*parts):
    rows = ", ".join(f'{{mark = "{mark}", size = [{size}]}}' for mark, size in parts)
    return f'\n[[done]]\nstage = "cut"\nparts = [{rows}]\n'


def lines_of(job, first, after):
    """Return the lines of an example from one that starts with a word to before another."""
    text = example(job)
    return text[text.index(f"\n{first}") + 1 : text.index(f"\n{after}") + 1]


VAN_STATIONS = lines_of("van", "widths", "between")
VAN_LENGTHS = lines_of("van", "lengths", "tail_lean")
VAN_NO_DRILL = lines_of("van", "no_drill", "anchors")
WAGON_STATIONS = lines_of("wagon", "widths", "tail_lean")
TRAY_FLOOR = lines_of("tray", "floor", "\n[[bay.opening]]")
UP_THERE = "{height = 500, y = 0, length = 2486}"
AT_LEFT = "{height = 0, y = 600, length = 2508}"
DAMP = 'finish = "clear"'
WINGED = 'name = "rear"\nwings = {left = "fixed", right = "none"}\n'
HATCH = '{what = "spare wheel carrier", x = [300, 700], y = [-250, 250], lift_out = true}'
BENCH = '[{what = "second row bench", mass = -42, x = 2300}]'

OTHERS = (
    Other(
        mistake=1,
        job="van",
        edits=((VAN_STATIONS, ""),),
        caught_by="MEASURED:bay",
        status="not proved",
        says="bay.widths",
        mend=(("between = [", f"{VAN_STATIONS}between = ["), (UP_THERE, f"{UP_THERE}, {AT_LEFT}")),
    ),
    Other(
        mistake=1,
        job="wagon",
        edits=(("width = 1030\nheight = 720", "width = 1030\nheight = 250"),),
        caught_by="DOORWAY-HEIGHT:tackle",
        status="fail",
        says="mm lower",
        mend=(('name = "tackle", height = 250', 'name = "tackle", height = 235'),),
    ),
    Other(
        mistake=2,
        job="wagon",
        more=reading("tackle", "between-runners", [449.0])
        + reading("tackle", "box-width", [451.0]),
        caught_by="WIDTH:tackle",
        status="fail",
        says="shorter",
        instead=True,
        mend_more=reading("tackle", "between-runners", [449.0])
        + reading("tackle", "box-width", [448.0]),
    ),
    Other(
        mistake=3,
        job="van",
        caught_by="THICKNESS:poplar-15",
        status="not proved",
        says="caliper",
        mend_more="\n[build.measured_thickness]\npoplar-15 = [14.6, 14.7, 14.6, 14.5, 14.6, 14.7, "
        "14.6, 14.6]\n",
    ),
    Other(
        mistake=3,
        job="pickup-inches",
        caught_by="THICKNESS:softwood-18",
        status="not proved",
        says="caliper",
        mend_more='\n[build.measured_thickness]\nsoftwood-18 = ["0.70 in", "0.71 in", "0.70 in", '
        '"0.70 in", "0.71 in", "0.70 in", "0.70 in", "0.71 in"]\n',
    ),
    Other(
        mistake=4,
        job="tray",
        more=reading("fittings", "diagonals", [870.0, 874.0]),
        caught_by="SQUARE:fittings",
        status="fail",
        says="off the long diagonal",
        mend=(("[870.0, 874.0]", "[872.0, 872.0]"),),
    ),
    Other(
        mistake=4,
        job="wagon",
        more=reading("tackle", "box-diagonals", [874.0, 878.5]),
        caught_by="SQUARE-BOX:tackle",
        status="fail",
        says="off the long diagonal",
        mend=(("[874.0, 878.5]", "[876.0, 876.5]"),),
    ),
    Other(
        mistake=5,
        job="tray",
        edits=(("size = [500, 350, 180]\nmass = 18", "size = [500, 350, 180]\nmass = 78"),),
        caught_by="RUNNER:pump parts",
        status="fail",
        says="39 kg of contents taken out",
        mend=(("mass = 78", "mass = 39"),),
    ),
    Other(
        mistake=5,
        job="van",
        edits=(
            ('mass = 15\ngoes_in = "hand"', 'mass = 60\ngoes_in = "hand"'),
            ('name = "hand"}', 'name = "hand", runner = "medium-53", lock = ""}'),
        ),
        caught_by="RUNNER:hand",
        status="fail",
        says="heavy-76 1150 passes",
        mend=(('runner = "medium-53", lock = ""', 'runner = "heavy-80-lock", lock = "in-out"'),),
    ),
    Other(
        mistake=6,
        job="van",
        more=cut(("A10", "221.5, 337.0, 14.9"), ("A13", "282.5, 347.0, 14.8")),
        caught_by="HELD-BACK:release B",
        status="fail",
        says="[[reading]]",
        mend_more=reading("hand", "between-runners", [251.5, 252.0, 251.5]),
    ),
    Other(
        mistake=6,
        job="pickup",
        more=cut(("W1", "1417.0, 163.0, 12.0")),
        caught_by="HELD-BACK:release B",
        status="fail",
        says="[[reading]]",
        mend_more='\n[[reading]]\nof = {block = "drawers", what = "gap-left"}\nvalues = [150.0]\n',
    ),
    Other(
        mistake=7,
        job="van",
        edits=(
            ("rear_axle_x = 930", "rear_axle_x = 930\ntow_ball = {mass = 140, x = -900}"),
            ("rear_axle = 1600", "rear_axle = 1500"),
            ("mass = 12\nquantity = 2", "mass = 30\nquantity = 2"),
        ),
        caught_by="VEHICLE-REAR",
        status="warn",
        says="take 44 kg out",
        mend=(("mass = 30\nquantity = 2", "mass = 8\nquantity = 2"),),
    ),
    Other(
        mistake=7,
        job="tray",
        edits=(("total = 3300", "total = 2700"),),
        caught_by="VEHICLE-TOTAL",
        status="warn",
        says="a lighter unit",
        mend=(("total = 2700", "total = 3000"),),
    ),
    Other(
        mistake=8,
        job="tray",
        edits=(("tension = 6000, shear = 6000", 'tension = "unknown", shear = "unknown"'),),
        caught_by="RESTRAINT-ANCHOR:left side/1",
        status="not proved",
        says="bay.anchors: tension and shear",
        mend=(('tension = "unknown", shear = "unknown"', "tension = 6000, shear = 6000"),),
    ),
    Other(
        mistake=8,
        job="van",
        edits=((VAN_NO_DRILL, ""),),
        caught_by="DRILL:load floor",
        status="not proved",
        says="look behind first",
        mend=(("anchors = [\n", f"{VAN_NO_DRILL}anchors = [\n"),),
    ),
    Other(
        mistake=8,
        job="tray",
        edits=((TRAY_FLOOR, ""),),
        caught_by="RESTRAINT-SHEET:left side/1",
        status="not proved",
        says="bay.floor: {material",
        mend=(('kind = "tray"\n', f'kind = "tray"\n{TRAY_FLOOR}'),),
    ),
    Other(
        mistake=9,
        job="tray",
        edits=(('name = "fittings"}', 'name = "fittings", latch = "push-lock"}'),),
        caught_by="LATCH:fittings",
        status="fail",
        says="cam-latch passes",
        mend=(("push-lock", "cam-latch"),),
    ),
    Other(
        mistake=9,
        job="van",
        edits=(
            ('name = "kitchen"}', 'name = "kitchen", lock = "none", latch = "push-lock"}'),
            ("size = [420, 320, 200]\nmass = 6", "size = [420, 320, 200]\nmass = 12"),
        ),
        caught_by="LATCH:kitchen",
        status="fail",
        says="turn-catch passes",
        mend=(("push-lock", "turn-catch"),),
    ),
    Other(
        mistake=10,
        job="wagon",
        edits=(("clear_above = 60", "clear_above = 260"),),
        caught_by="CONTENTS-HEIGHT:fridge",
        status="fail",
        says="clear_above = 0",
        mend=(("clear_above = 260", "clear_above = 0"),),
    ),
    Other(
        mistake=10,
        job="van",
        edits=(("size = [420, 320, 200]", "size = [420, 320, 380]"),),
        caught_by="CONTENTS-HEIGHT:kitchen",
        status="fail",
        says="mm higher",
        mend=(("z = [0, 400]", "z = [0, 480]"), ("top = 420", "top = 500")),
    ),
    Other(
        mistake=11,
        job="van",
        edits=(('name = "rear"\n', 'name = "rear"\nclear_at_face = 2\n'),),
        caught_by="SHUTS:hand",
        status="warn",
        says="clear_at_face",
        mend=(("clear_at_face = 2", "clear_at_face = 3"),),
    ),
    Other(
        mistake=11,
        job="tray",
        edits=(
            ('name = "right side"\n', 'name = "right side"\nclear_at_face = 0\n'),
            ("y = [-880, -40]", "y = [-881, -40]"),
        ),
        caught_by="SHUTS:fittings",
        status="warn",
        says="clear_at_face 1.5 mm more",
        mend=(("clear_at_face = 0", "clear_at_face = 4"),),
    ),
    Other(
        mistake=12,
        job="tray",
        edits=(('drawer_bottom = "birch-9"', 'drawer_bottom = "ply-6"'),),
        caught_by="BOTTOM-SAG:pump parts",
        status="fail",
        says="ply-12 passes",
        mend=(('drawer_bottom = "ply-6"', 'drawer_bottom = "ply-12"'),),
    ),
    Other(
        mistake=12,
        job="van",
        edits=(('deck_sheet = "birch-24"', 'deck_sheet = "poplar-12"'),),
        caught_by="DECK-SAG:bed/1",
        status="fail",
        says="passes at",
        mend=(('deck_sheet = "poplar-12"', 'deck_sheet = "poplar-18"'),),
    ),
    Other(
        mistake=13,
        job="van",
        more=cut(*[("A8", "1150.0, 337.0, 14.9")] * 4),
        caught_by="HANDS:parts",
        status="fail",
        says="cut the other hand new",
        instead=True,
        mend_more=cut(*[("A8", "1150.0, 337.0, 14.9")] * 3),
    ),
    Other(
        mistake=13,
        job="tray",
        more=cut(*[("A1", "792.5, 508.0, 14.7")] * 2),
        caught_by="HANDS:parts",
        status="fail",
        says="cut the other hand new",
        mend_more='\n[[spoiled]]\nmark = "A1"\n',
    ),
    Other(
        mistake=15,
        job="van",
        edits=(
            ('name = "rear"\n', 'name = "rear"\nmodules = "shared"\n'),
            ('carcass = "poplar-15"', 'carcass = "hardwood-21"'),
        ),
        caught_by="CARRY-IN:rear/1",
        status="fail",
        says='modules = "separate"',
        mend=(('modules = "shared"', 'modules = "separate"'),),
    ),
    Other(
        mistake=15,
        job="pickup",
        edits=(
            ("below_rail = 45\n", 'below_rail = 45\nkind = "lift-out"\n'),
            ('deck_sheet = "birch-18"', 'deck_sheet = "hardwood-21"'),
        ),
        caught_by="LIFT-OUT:deck/1",
        status="warn",
        says="pieces of",
        mend=(('deck_sheet = "hardwood-21"', 'deck_sheet = "poplar-18"'),),
    ),
    Other(
        mistake=16,
        job="wagon",
        edits=(("height = 250,", 'height = 250, lock = "in-out", lever = "none",'),),
        caught_by="LEVER:tackle",
        status="fail",
        says='lever = "notch"',
        mend=(('lever = "none"', 'lever = "notch"'),),
    ),
    Other(
        mistake=16,
        job="van",
        edits=(("front_gap = 4", 'front_gap = 4\nlever = "none"'),),
        caught_by="LEVER:kitchen",
        status="fail",
        says='lever = "hand-hole"',
        mend=(('lever = "none"', 'lever = "hand-hole"'),),
    ),
    Other(
        mistake=17,
        job="pickup-inches",
        edits=(("columns = [\n", 'wings = {left = "fixed", right = "fixed"}\ncolumns = [\n'),),
        caught_by="WING:yard/right",
        status="not proved",
        says="do not copy it",
        mend=(
            (
                "{at = 39, height = 18, width = 66}",
                '{at = 39, height = 18, left = 33, right = "32 15/16"}',
            ),
        ),
    ),
    Other(
        mistake=17,
        job="van",
        edits=(('name = "rear"\n', WINGED),),
        caught_by="WING:rear/left",
        status="not proved",
        says="bay.widths: left and right",
        mend=(
            (
                "{at = 1250, height = 600, width = 1724},",
                "{at = 1250, height = 400, left = 858, right = 860},",
            ),
        ),
    ),
    Other(
        mistake=18,
        job="tray",
        more='\n[[contact]]\nbetween = ["left side/1/side-right", "left side/2/side-left"]\n'
        'lies = "none"\ngap = 0.6\n',
        caught_by="RATTLE:pairs",
        status="fail",
        says="felt",
        mend=(('lies = "none"', 'lies = "felt"'),),
    ),
    Other(
        mistake=18,
        job="wagon",
        more='\n[[contact]]\nbetween = ["fridge", "tray bottom"]\nlies = "none"\ngap = 0\n',
        caught_by="RATTLE:pairs",
        status="fail",
        says="felt",
        mend=(('lies = "none"', 'lies = "rubber"'),),
    ),
    Other(
        mistake=19,
        job="wagon",
        edits=(
            (
                "belts = [",
                (
                    'seals = [{what = "rear door", free = 10, squashed = 8, panel_error = 4}]\n'
                    "belts = ["
                ),
            ),
        ),
        caught_by="SEAL:rear door",
        status="fail",
        says="at least 13 mm high",
        mend=(("free = 10", "free = 13"),),
    ),
    Other(
        mistake=19,
        job="tray",
        edits=(
            (
                "diagonals = [",
                (
                    'seals = [{what = "side door", length = "4.6 m", free = 12, squashed = 9}]\n'
                    "diagonals = ["
                ),
            ),
        ),
        caught_by="SEAL:side door",
        status="fail",
        says="at least 14 mm high",
        mend=(("free = 12", "free = 14"),),
    ),
    Other(
        mistake=20,
        job="tray",
        edits=((DAMP, 'finish = "none"'),),
        caught_by="SEALED:none",
        status="fail",
        says=DAMP,
        mend=(('finish = "none"', DAMP),),
    ),
    Other(
        mistake=20,
        job="van",
        edits=(('back = "wall"\n', 'back = "wall"\nfinish = "none"\n'),),
        caught_by="SEALED:none",
        status="fail",
        says=DAMP,
        mend=(('finish = "none"', DAMP),),
    ),
    Other(
        mistake=22,
        job="van",
        edits=(("cove = 12", f"cove = 12\naccess = [{HATCH}]"),),
        caught_by="ACCESS:spare wheel carrier",
        status="fail",
        says='deck.kind = "lift-out"',
        mend=(('back = "wall"', 'back = "wall"\nkind = "lift-out"'),),
    ),
    Other(
        mistake=22,
        job="wagon",
        edits=(
            (
                "belts = [",
                'access = [{what = "jack bay", x = [120, 200], y = [380, 500]}]\nbelts = [',
            ),
        ),
        caught_by="ACCESS:jack bay",
        status="fail",
        says="begin it at x = 200 mm",
        mend=(("place = {z = [0, 560]}", "place = {x = [201, 1060], z = [0, 560]}"),),
    ),
    Other(
        mistake=23,
        job="wagon",
        edits=(("x = 1050, y = 420}", "x = 1050, y = 420, used = true}"),),
        caught_by="BELT:rear belt, left",
        status="fail",
        says="tie to an anchor of the load area",
        mend=(
            (", used = true", ""),
            ("place = {z = [0, 560]}", "place = {x = [0, 930], z = [0, 560]}"),
        ),
    ),
    Other(
        mistake=23,
        job="van",
        edits=(("people = [{mass = 80, x = 3150}]", f"people = []\nalso = {BENCH}"),),
        caught_by="SEATS:second row bench",
        status="not proved",
        says="ask the authority",
        mend=((f"\nalso = {BENCH}", ""),),
    ),
)
