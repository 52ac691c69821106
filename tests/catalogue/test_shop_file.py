"""A shop's own file: what it overrides and adds, and what it is told when it is wrong."""

from __future__ import annotations

import pytest

from stowright.catalogue import all_stock_sizes, load_catalogue, origin_of, stock_sizes_of
from stowright.errors import JobError

SHIPPED = load_catalogue()

NEW_SAW = """
[[saws]]
name = "big-blade"
method = "panel"
kerf = 4.8
trim = 6
tolerance = 0.4
good_face_down = false
source = "measured on a strip of ten cuts"
standing = "published"
"""

NEW_RUNNER = """
[[runners]]
name = "flat-60"
section = 60
thickness = 16
set_back = 1
overlap = 150
droop = 0.005
flange = 1.5
screw = "pan-8g-15"
mount = "flat"
basis = "pair, 500 long, 10000 cycles"
[runners.side_space]
least = 16.2
aim = 16.3
most = 16.5
[runners.holes]
cabinet = { first = 35, step = 96, pair = 32, end = 20, up = 3 }
drawer = { first = 40, step = 96, pair = 32, end = 20, up = 0 }
[runners.sizes]
length = [500, 400]
travel = [490, 390]
rating_kg = [60, 70]
mass = [2.0, 1.6]
"""


def mistakes(text):
    with pytest.raises(JobError) as caught:
        load_catalogue(text)
    return caught.value.mistakes


def test_an_override_changes_the_fields_it_names_and_no_other():
    shelf = load_catalogue('[[materials]]\nname = "birch-15"\nthickness = 14.6\n')
    new, old = shelf.material("birch-15"), SHIPPED.material("birch-15")
    assert new.thickness == 14.6
    for field in type(old).__slots__:
        if field not in {"thickness", "origin", "origins", "layup"}:
            assert getattr(new, field) == getattr(old, field), field
    assert [row.name for row in shelf.materials] == [row.name for row in SHIPPED.materials]


def test_a_new_thickness_drops_the_lay_up_that_no_longer_adds_up():
    shelf = load_catalogue('[[materials]]\nname = "birch-15"\nthickness = 14.6\n')
    assert shelf.material("birch-15").layup == ()


def test_the_shipped_rows_stay_as_they_are():
    load_catalogue('[[materials]]\nname = "birch-15"\nthickness = 14.6\n')
    assert load_catalogue().material("birch-15").thickness == 14.8


def test_an_override_without_a_standing_is_assumed_and_says_whose_it_is():
    shelf = load_catalogue('[[materials]]\nname = "birch-15"\ndensity = 700\n')
    row = shelf.material("birch-15")
    assert origin_of(row, "density").source == "the shop's own catalogue"
    assert origin_of(row, "density").standing == "assumed"
    assert row.origin.standing == "assumed"
    assert origin_of(row, "thinner") == origin_of(SHIPPED.material("birch-15"), "thinner")
    assert SHIPPED.material("birch-15").origin.source in row.origin.source


def test_a_better_standing_of_one_field_does_not_lift_the_row():
    text = (
        '[[materials]]\nname = "ply-15"\nthickness = 14.5\n'
        'source = "40 sheets of three batches, calipered"\nstanding = "published"\n'
    )
    row = load_catalogue(text).material("ply-15")
    assert origin_of(row, "thickness").standing == "published"
    assert row.origin.standing == "assumed"


def test_a_price_leaves_the_origin_alone():
    shelf = load_catalogue('[[screws]]\nname = "screw-8g-32"\nprice = 9.5\n')
    row = shelf.screw("screw-8g-32")
    assert row.price == 9.5
    assert row.origin == SHIPPED.screw("screw-8g-32").origin
    assert row.origins == SHIPPED.screw("screw-8g-32").origins


def test_a_whole_new_row_is_added_at_the_end():
    shelf = load_catalogue(NEW_SAW)
    assert shelf.saws[:-1] == SHIPPED.saws
    saw = shelf.saw("big-blade")
    assert (saw.kerf, saw.method, saw.good_face_down) == (4.8, "panel", False)
    assert (saw.origin.source, saw.origin.standing) == (
        "measured on a strip of ten cuts",
        "published",
    )


def test_a_new_row_without_a_source_is_the_shops_and_assumed():
    text = '[[finishes]]\nname = "lacquer"\ncoats = 2\ncoverage = 9\n'
    origin = load_catalogue(text).finish("lacquer").origin
    assert (origin.source, origin.standing) == ("the shop's own catalogue", "assumed")


def test_a_new_runner_with_its_holes_and_lengths_in_order():
    runner = load_catalogue(NEW_RUNNER).runner("flat-60")
    assert [size.length for size in runner.sizes] == [400.0, 500.0]
    assert [size.rating_kg for size in runner.sizes] == [70.0, 60.0]
    assert (runner.lock_in, runner.lever, runner.lateral_rating_n) == (False, None, None)
    cabinet = [h for h in runner.sizes[0].holes if h.member == "cabinet"]
    drawer = [h for h in runner.sizes[0].holes if h.member == "drawer"]
    assert (cabinet[0].at, cabinet[0].up, drawer[0].at, drawer[0].up) == (35.0, 3.0, 40.0, 0.0)


def test_a_runners_sizes_are_overridden_by_length():
    text = """
[[runners]]
name = "heavy-80-lock"
[runners.sizes]
length = [1000, 1250]
rating_kg = [120, 110]
price = [210, 260]
"""
    new, old = load_catalogue(text).runner("heavy-80-lock"), SHIPPED.runner("heavy-80-lock")
    by_length = {size.length: size for size in new.sizes}
    was = {size.length: size for size in old.sizes}
    assert by_length.keys() == was.keys()
    assert (by_length[1000.0].rating_kg, by_length[1250.0].price) == (120.0, 260.0)
    assert by_length[1000.0].mass == was[1000.0].mass
    assert by_length[1200.0] == was[1200.0]
    assert origin_of(new, "sizes").source == "the shop's own catalogue"


def test_prices_of_runner_lengths_leave_the_origin_alone():
    text = '[[runners]]\nname = "slim-45"\n[runners.sizes]\nlength = [400]\nprice = [30]\n'
    new, old = load_catalogue(text).runner("slim-45"), SHIPPED.runner("slim-45")
    assert next(s.price for s in new.sizes if s.length == 400.0) == 30.0
    assert new.origin == old.origin


def test_a_side_space_is_overridden_key_by_key():
    text = '[[runners]]\nname = "slim-45"\n[runners.side_space]\naim = 12.95\n'
    space = load_catalogue(text).runner("slim-45").side_space
    assert (space.least, space.aim, space.most) == (12.9, 12.95, 13.2)


def test_columns_make_many_rows():
    text = """
[[screws]]
name = "brass-{length}"
kind = "countersunk"
diameter = 4
root = 2.6
head = 8
head_height = 0
pilot_face = 2.7
pilot_edge = 2.9
pack = 50
[screws.columns]
length = [20, 30]
thread = [14, 20]
"""
    shelf = load_catalogue(text)
    assert (shelf.screw("brass-20").thread, shelf.screw("brass-30").thread) == (14.0, 20.0)


def test_a_size_can_be_offered_and_another_withdrawn():
    text = """
[[stock_sizes]]
name = "poplar-2500x1250"
offered = true
[[stock_sizes]]
name = "birch-1525x1525"
offered = false
"""
    offered = {size.name for size in load_catalogue(text).stock_sizes}
    assert "poplar-2500x1250" in offered
    assert "birch-1525x1525" not in offered
    assert "birch-1525x1525" in {size.name for size in all_stock_sizes(text)}


def test_a_price_for_one_thickness_takes_the_place_of_the_familys_row():
    text = """
[[stock_sizes]]
material = "birch-15"
length = 2440
width = 1220
price = 92
"""
    shelf = load_catalogue(text)
    priced = stock_sizes_of(shelf.stock_sizes, shelf.material("birch-15"))
    plain = stock_sizes_of(shelf.stock_sizes, shelf.material("birch-18"))
    assert [(s.name, s.price) for s in priced] == [
        ("birch-1525x1525", None),
        ("birch-15-2440x1220", 92.0),
    ]
    assert [(s.name, s.price) for s in plain] == [
        ("birch-1525x1525", None),
        ("birch-2440x1220", None),
    ]


def test_every_mistake_is_told_at_once_with_its_line_and_the_nearest_name():
    text = """[[saws]]
name = "track"
kerff = 2.0
  trim = -1

[[materails]]
name = "x"

[[screws]]
name = "screw-8g-32"
kind = "countersnuk"
"""
    found = mistakes(text)
    told = {(m.field, m.line, m.column, m.nearest) for m in found}
    assert told == {
        ("saws[1].kerff", 3, 1, "kerf"),
        ("saws[1].trim", 4, 3, ""),
        ("materails", 6, 1, "materials"),
        ("screws[1].kind", 11, 1, "countersunk"),
    }
    assert all(m.allowed for m in found)
    assert str(found[1]).count("\n") == 0


def test_a_new_row_that_lacks_columns_is_told_each_of_them():
    found = mistakes('[[saws]]\nname = "new-saw"\nmethod = "hand"\n')
    assert {m.field.rpartition(".")[2] for m in found} == {
        "kerf",
        "trim",
        "tolerance",
        "good_face_down",
    }
    assert {m.found for m in found} == {"nothing"}


def test_a_new_runner_that_lacks_its_parts_is_told():
    found = mistakes(NEW_RUNNER.partition("[runners.side_space]")[0])
    fields = {m.field for m in found}
    assert "runners[1].side_space.least" in fields
    assert "runners[1].holes.drawer.first" in fields
    assert "runners[1].sizes" in fields


def test_a_row_without_a_name_is_told():
    assert [m.field for m in mistakes("[[saws]]\nkerf = 2\n")] == ["saws[1].name"]


@pytest.mark.parametrize(
    ("row", "field"),
    [
        ('[[saws]]\nname = "track"\nkerf = nan', "saws[1].kerf"),
        ('[[saws]]\nname = "track"\nkerf = inf', "saws[1].kerf"),
        ('[[saws]]\nname = "track"\nkerf = 1e9', "saws[1].kerf"),
        ('[[saws]]\nname = "track"\nkerf = true', "saws[1].kerf"),
        ('[[saws]]\nname = "track"\nkerf = "2 mm"', "saws[1].kerf"),
        ('[[saws]]\nname = "track"\nkerf = 0', "saws[1].kerf"),
        ('[[saws]]\nname = "track"\ngood_face_down = 1', "saws[1].good_face_down"),
        ('[[saws]]\nname = "Track saw"', "saws[1].name"),
        ('[[finishes]]\nname = "clear"\ncoats = 2.5', "finishes[1].coats"),
        ('[[finishes]]\nname = "clear"\ncoats = -1', "finishes[1].coats"),
        ('[[hardware]]\nname = "net"\nsize = [1, 2]', "hardware[1].size"),
        ('[[hardware]]\nname = "net"\nsource = "  "', "hardware[1].source"),
        ('[[nuts]]\nname = "nut-M8-rivet"\ngrip = [3, 1]', "nuts[1].grip"),
        ('[[materials]]\nname = "birch-15.5"', "materials[1].name"),
        ('[[materials]]\nname = "birch-15"\nplies = 9\nlayup = [1, 2]', "materials[1].layup"),
        ('[[materials]]\nname = "birch-15"\nlayup = 3', "materials[1].layup"),
        ('[[materials]]\nname = "birch-15"\nthickness = 18', "materials[1].thickness"),
        ('[[materials]]\nname = "birch-15"\nthinner = 20', "materials[1].thinner"),
        ('[[screws]]\nname = "screw-8g-32"\nroot = 5', "screws[1].root"),
        ('[[washers]]\nname = "washer-M8"\nhole = 17', "washers[1].hole"),
        ('[[runners]]\nname = "slim-45"\nscrew = "pan-8g-14"', "runners[1].screw"),
        ('[[runners]]\nname = "slim-45"\nthickness = 13', "runners[1].side_space"),
        ('[[runners]]\nname = "slim-45"\nholes = 3', "runners[1].holes"),
        ('[[runners]]\nname = "slim-45"\nside_space = 3', "runners[1].side_space"),
        ('[[runners]]\nname = "slim-45"\nside_space = {wide = 3}', "runners[1].side_space.wide"),
        (
            '[[runners]]\nname = "slim-45"\nsizes = {length = [400, 450], price = [1]}',
            "runners[1].sizes",
        ),
        ('[[runners]]\nname = "slim-45"\nsizes = {price = [1]}', "runners[1].sizes"),
        (
            '[[runners]]\nname = "slim-45"\nsizes = {length = [400], price = [-1]}',
            "runners[1].sizes.price",
        ),
        ('[[stock_sizes]]\nmaterial = "brich"\nlength = 9\nwidth = 9', "stock_sizes[1].material"),
        ('[[saws]]\nname = "s-{kerf}"\ncolumns = {kerf = [1, 2], trim = [1]}', "saws[1].columns"),
        ('[[saws]]\nname = "s-{kerf}"\ncolumns = {kref = [1, 2]}', "saws[1].columns.kref"),
        ('[[saws]]\nname = "s-{kerf}"\ncolumns = {kerf = []}', "saws[1].columns"),
        ('[[saws]]\nname = "track"\norigins = 3', "saws[1].origins"),
        ('[[saws]]\nname = "track"\norigins = [3]', "saws[1].origins"),
        (
            '[[saws]]\nname = "track"\norigins = [{fields = ["kref"], source = "x"}]',
            "saws[1].origins.fields",
        ),
        ("saws = 3", "saws"),
        ("[saws]\nkerf = 3", "saws"),
        ("format = 2", "format"),
    ],
)
def test_what_a_cell_does_not_take(row, field):
    assert field in [m.field for m in mistakes(row)]


def test_a_text_that_is_not_toml_is_refused_with_its_place():
    (mistake,) = mistakes('[[saws]]\nname = "track\n')
    assert (mistake.field, mistake.line) == ("file", 2)
    assert mistake.column > 0


@pytest.mark.parametrize(
    "text",
    [
        "\x00\x01\x02",
        "a = " + "[" * 100_000,
        "# " + "x" * 2_100_000,
        "[[a" + ".b" * 50_000 + "]]",
    ],
    ids=["junk", "nested", "huge", "dotted"],
)
def test_junk_is_refused_in_few_words(text):
    found = mistakes(text)
    assert all(len(str(mistake)) < 1000 for mistake in found)


def test_a_byte_order_mark_is_accepted():
    assert load_catalogue("\ufeffformat = 1\n").saws == SHIPPED.saws


def test_the_same_mistake_is_told_once():
    text = '[[saws]]\nname = "s-{kerf}"\nmethod = "foot"\ncolumns = {kerf = [1, 2, 3]}\n'
    found = [m.field for m in mistakes(text)]
    assert found.count("saws[1].method") == 1


def test_the_place_of_a_key_in_a_sub_table_is_told():
    text = """[[runners]]
name = "slim-45"
[runners.sizes]
length = [400]
price = [-30]

[[saws]]
name = "s-{kerf}"
[saws.columns]
kerf = [1, -2]
"""
    places = {m.field: (m.line, m.column) for m in mistakes(text)}
    assert places == {"runners[1].sizes.price": (3, 1), "saws[1].kerf": (10, 1)}
