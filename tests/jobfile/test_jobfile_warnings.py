"""What is odd is said and still read; what is not used yet is never silent."""

import pytest

from stowright.jobfile import NOT_YET_USED, read_job

HEAD = '[job]\ntitle = "x"\n'
BAY = "[bay]\nlength = 1494\nwidth = 1392\nrail = 486\n"
MINIMAL = HEAD + BAY
INCHES = MINIMAL.replace('"x"', '"x"\nunits = "in"\ncut_grid = "1/32 in"')
INCHES = INCHES.replace("1494", "58").replace("1392", "55").replace("486", "19")


def warned(text):
    return read_job(text).warnings


def test_a_plain_job_has_no_warning():
    assert warned(MINIMAL) == ()
    assert warned(INCHES) == ()


STATIONS = (
    "widths = [{at=0, height=0, width=1392}, {at=700, height=0, width=%s},"
    "{at=1480, height=0, width=1384}]\n"
)
ODD = {
    "a station 200 off its neighbours": (MINIMAL + STATIONS % 1188, "bay.widths[2]: 1188 mm"),
    "the last of two stations": (
        MINIMAL + "widths = [{at=0, width=1392}, {at=1480, width=1180}]\n",
        "bay.widths[2]",
    ),
    "a level off the one below": (
        MINIMAL + "widths = [{at=0, height=0, width=1392}, {at=0, height=400, width=1600}]\n",
        "bay.widths[2]",
    ),
    "one station off the plain width": (
        MINIMAL + "widths = [{at=0, height=0, width=1192}]\n",
        "bay.widths[1]",
    ),
    "between the arches": (
        MINIMAL + "between = [{at=400, width=1106}, {at=700, width=900}, {at=1000, width=1104}]\n",
        "bay.between[2]",
    ),
    "a length": (
        MINIMAL + "lengths = [{y=0, length=1494}, {y=600, length=1290}]\n",
        "bay.lengths[2]",
    ),
    "a place read twice": (
        MINIMAL + "widths = [{at=0, width=1392}, {at=0, width=1380}]\n",
        "read twice",
    ),
    "sides that differ": (
        MINIMAL + "widths = [{at=0, left=800, right=592}]\n",
        "left and right differ by 208 mm",
    ),
    "sides that do not make the whole": (
        MINIMAL + "widths = [{at=0, left=690, right=690, width=1392}]\n",
        "left and right make 1380 mm",
    ),
    "between and reach": (
        MINIMAL + "arches = [{side='left', start=300, end=900, height=200, reach=140},"
        "{side='right', start=300, end=900, height=200, reach=140}]\n"
        "between = [{at=600, width=1000}]\n",
        "width less reach leaves 1112 mm",
    ),
    "between wider than the walls": (
        MINIMAL + "between = [{at=600, width=1450}]\n",
        "more than the width there",
    ),
    "an arch above the rail": (
        MINIMAL + "arches = [{side='left', start=300, end=900, height=500, reach=140}]\n",
        "above the rail",
    ),
    "diagonals": (MINIMAL + "diagonals = [2041, 2235]\n", "bay.diagonals: 2235 mm"),
    "a doorway wider than the bay": (
        MINIMAL + "[[bay.opening]]\nwidth = 1500\n",
        "bay.opening[1].width: 1500 mm is larger than the bay",
    ),
    "a doorway higher than the bay": (
        MINIMAL + "clear_height = 900\n[[bay.opening]]\nwidth = 1300\nheight = 950\n",
        "bay.opening[1].height: 950 mm is larger than the bay",
    ),
    "two doorways on one side": (
        MINIMAL + "[[bay.opening]]\nwidth = 1300\n[[bay.opening]]\nwidth = 1200\n",
        "a second doorway on the tail",
    ),
    "a tailgate above the floor": (
        MINIMAL + "[bay.tailgate]\nopen_top = 12\n",
        "bay.tailgate.open_top: 12 mm above the floor",
    ),
    "an anchor outside": (MINIMAL + "anchors = [{x=95, y=800}]\n", "bay.anchors[1]: stands out"),
    "a keep-out outside": (
        MINIMAL + "keep_out = [{x=[1600, 1700]}]\n",
        "bay.keep_out[1]: lies outside",
    ),
    "18 mm sheet in an inch job": (
        INCHES + "[build]\nmeasured_thickness = {ply-18 = [18]}\n",
        'if millimetres were meant write "18 mm"',
    ),
    "18 for a gap in an inch job": (
        INCHES + "[build]\nside_clear = 18\n",
        "build.side_clear: 18 in is unusual",
    ),
    "3 for a gap in an inch job": (
        INCHES + "[[block]]\ncolumns = [{stack = [{front_gap = 3}]}]\n",
        "block[1].columns[1].stack[1].front_gap: 3 in is unusual",
    ),
    "inches in a millimetre job": (
        MINIMAL.replace("1494", "58.8"),
        'if inches were meant write "58.8 in"',
    ),
    "a sheet in hand 18 in thick": (
        INCHES + "[[sheet]]\nmaterial = 'ply-18'\nsize = [96, 48]\nthickness = [18]\n",
        "sheet[1].thickness: 18 in is unusual",
    ),
    "a caliper reading of another sheet": (
        MINIMAL + "[build]\nmeasured_thickness = {ply-15 = [17.8]}\n",
        "far from the thickness in the name ply-15",
    ),
    "two thicknesses": (
        MINIMAL
        + "[build]\nmeasured_thickness = {ply-15 = [14.6, 14.7]}\n"
        + "[[sheet]]\nmaterial = 'ply-15'\nsize = [2440, 1220]\nthickness = [14.8, 14.8]\n",
        "build.measured_thickness.ply-15: mean",
    ),
    "a closed side": (
        HEAD + "[bay]\nlength=2400\nwidth=1700\nclear_height=1400\n[[block]]\nface='left'\n",
        "no doorway is given there",
    ),
    "an overloaded axle": (
        MINIMAL
        + "[vehicle]\nweighed = {front_axle = 1500, rear_axle = 900}\n"
        + "limits = {front_axle = 1480}\n",
        "already over vehicle.limits.front_axle",
    ),
    "a door on a drawer": (
        MINIMAL + "[[block]]\ncolumns = [{stack = [{door = 'drop'}]}]\n",
        "door: does nothing on fill = drawer",
    ),
    "a weight beside a fixed width": (
        MINIMAL + "[[block]]\ncolumns = [{width = 400, weight = 2}]\n",
        "weight: does nothing beside a fixed width",
    ),
    "an unknown lock": (
        MINIMAL + "[[block]]\ncolumns = [{stack = [{lock = 'cam'}]}]\n",
        "lock: cam is kept as it is",
    ),
    "an inch job on a millimetre grid": (
        INCHES.replace('cut_grid = "1/32 in"\n', ""),
        'cut_grid = "1/32 in"',
    ),
}


@pytest.mark.parametrize(("text", "told"), ODD.values(), ids=ODD)
def test_what_is_odd_is_told_in_a_line_and_read(text, told):
    lines = warned(text)
    assert any(told in line for line in lines), lines
    assert all("\n" not in line for line in lines)


@pytest.mark.parametrize("width", [1388, 1300])
def test_a_usual_taper_is_not_odd(width):
    assert warned(MINIMAL + STATIONS % width) == ()


def test_readings_that_agree_within_a_tenth_are_not_odd():
    text = (
        MINIMAL
        + "[build]\nmeasured_thickness = {ply-15 = [14.6, 14.7]}\n"
        + "[[sheet]]\nmaterial = 'ply-15'\nsize = [2440, 1220]\nthickness = [14.7, 14.7]\n"
    )
    assert warned(text) == ()


USING = {
    "bay.anchors.tension": "anchors = [{x=95, y=480, tension=2000}]\n",
    "bay.anchors.shear": "anchors = [{x=95, y=480, shear=2000}]\n",
    "bay.floor.rib_pitch": "floor = {rib_depth=9, rib_pitch=62}\n",
    "bay.opening.above_ground": "[[bay.opening]]\nwidth=1300\nabove_ground=800\n",
    "block.over_arches": "[[block]]\nover_arches='offer'\n",
    "carry.used": "[[carry]]\nwhat='a'\nsize=[9, 9, 9]\nmass=1\nused='daily'\n",
    "carry.goes_with": "[[carry]]\nwhat='a'\nsize=[9, 9, 9]\nmass=1\ngoes_with=['b']\n",
    "carry.never_with": "[[carry]]\nwhat='a'\nsize=[9, 9, 9]\nmass=1\nnever_with='b'\n",
    "vehicle.weighed_after": "[vehicle]\nweighed_after={front_axle=1, rear_axle=1}\n",
    "done": "[[done]]\nstage='cut'\nparts=['A1']\n",
    "spoiled": "[[spoiled]]\nmark='A1'\n",
    "reading": "[[reading]]\nof={block='drawers', what='width'}\nvalues=[1388]\n",
}


@pytest.mark.parametrize("field", USING)
def test_a_key_that_does_nothing_yet_says_so_with_its_field(field, monkeypatch):
    monkeypatch.setitem(NOT_YET_USED, field, "a room that learns to use it")
    lines = [line for line in warned(MINIMAL + USING[field]) if "not used yet" in line]
    assert len(lines) == 1
    named = lines[0].partition(":")[0]
    assert ".".join(part.partition("[")[0] for part in named.split(".")) == field


def test_every_key_is_used():
    assert NOT_YET_USED == {}


def test_neutral_values_of_such_keys_are_not_worth_a_warning():
    text = MINIMAL + "[[block]]\nover_arches = 'no'\n[[carry]]\nwhat='a'\nsize=[9,9,9]\nmass=1\n"
    text += "goes_with=[]\n"
    assert warned(text) == ()
