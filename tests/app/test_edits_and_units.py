"""Fields as typed, lists of what goes in, other units, arranging by hand."""

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from stowright.app import arranging
from stowright.app.carry_list import carry_from_csv
from stowright.app.edits import edited, has_moved, typed, value_at
from stowright.app.loading import load_catalogue, load_job, starter, starter_kinds
from stowright.app.planning import design_job, prove_design
from stowright.app.remedies import remedies
from stowright.app.shop_floor import readings_in
from stowright.app.unit_change import in_unit
from stowright.errors import JobError, UnknownNameError

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/job.toml"))


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("1402", 1402),
        (" 1402,5 ", 1402.5),
        ("47 1/16", "47 1/16"),
        ("47 1/16 in", "47 1/16 in"),
        ("", None),
        ("share", "share"),
        ("1e3", "1e3"),
        ("<b>", "<b>"),
    ],
)
def test_what_is_typed_is_written_as_the_job_file_holds_it(said, written):
    assert typed(said) == written


def test_a_path_leads_through_lists_and_quoted_keys():
    tables = {"a": [{"b.c": 3}]}
    assert value_at(tables, 'a[1]."b.c"') == 3
    assert value_at(tables, "a[2].x") is None


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_another_unit_changes_no_length_and_keeps_comments(path):
    text = path.read_text()
    before = load_job(text)
    other = "mm" if before.units == "in" else "in"
    changed = in_unit(text, other)
    after = load_job(changed)
    assert replace(after, units=before.units, assumed=(), warnings=()) == replace(
        before, assumed=(), warnings=()
    )
    comments = [line.partition("#")[2] for line in text.splitlines() if "#" in line]
    assert all(comment in changed for comment in comments)
    assert in_unit(text, before.units) == text


CSV = "what,length,width,height,mass,quantity\nbox,400,300,200,5,2\ncan,350,170,470,22 kg,1\n"


def test_what_is_no_length_stays_when_the_unit_changes():
    text = """format = 1
[job]
title = "An invented job"
service_class = 3
[bay]
kind = "tray"
length = 1780
width = 1755
rail = 250
[vehicle]
wheelbase = 3200
rear_axle_x = 780
weighed = {front_axle = 1100, rear_axle = 850}
[vehicle.weighed_after]
front_axle = 1150
rear_axle = 1000
people = 0
[build]
runner_factors = {vehicle = 0.4, flat = 0.2}
runner_stated = {lateral = 300, stop = 400, lock = 500}
[[block]]
name = "long"
columns = [ {weight = 2, stack = [ {fill = "drawer", name = "shovels"} ]} ]
[[deck]]
over = ["long"]
rails = [{side = "left", rating = 1500}]
"""
    changed = in_unit(text, "in")
    told = tomllib.loads(changed)
    assert told["deck"][0]["rails"] == [{"side": "left", "rating": 1500}]
    assert told["job"]["service_class"] == 3
    assert told["build"] == tomllib.loads(text)["build"]
    back = load_job(in_unit(changed, "mm").encode())
    before = load_job(text.encode())
    assert replace(back, assumed=(), warnings=()) == replace(before, assumed=(), warnings=())


def test_a_list_becomes_rows():
    rows = carry_from_csv(CSV, units="mm")
    assert rows[0] == {"what": "box", "size": [400, 300, 200], "mass": 5, "quantity": 2}
    assert rows[1]["mass"] == "22 kg"


@pytest.mark.parametrize("comma", [";", "\t"])
def test_other_commas_and_a_byte_order_mark_are_read(comma):
    assert carry_from_csv("\ufeff" + CSV.replace(",", comma), units="mm")[0]["what"] == "box"


def test_every_mistake_of_a_list_is_told_with_its_line():
    wrong = (
        "what,length,width,height,mass,quantity\nbox,x,300,200,5,2\n,1,1,1,1,1\nc,1,1,1,1,none\n"
    )
    with pytest.raises(JobError) as refused:
        carry_from_csv(wrong, units="mm")
    assert [mistake.line for mistake in refused.value.mistakes] == [2, 3, 4]


def test_a_list_without_its_columns_is_refused():
    with pytest.raises(JobError, match="height"):
        carry_from_csv("what,length,width\na,1,2\n", units="mm")


def start(kind="tub"):
    text = starter(kind, units="mm", answers={})
    return text, load_job(text)


def test_columns_and_stacks_are_built_by_hand():
    text, job = start()
    columns = len(job.blocks[0].columns)
    text = edited(text, arranging.add_column(text, job, 1))
    job = load_job(text)
    assert len(job.blocks[0].columns) == columns + 1
    text = edited(text, arranging.add_fill(text, job, 1, 1))
    job = load_job(text)
    assert len(job.blocks[0].columns[0].stack) == 2
    names = [fill.name for column in job.blocks[0].columns for fill in column.stack]
    text = edited(text, arranging.moved_column(text, job, 1, 1, 1))
    moved = load_job(text)
    assert moved.blocks[0].columns[1].stack == job.blocks[0].columns[0].stack
    assert sorted(f.name for c in moved.blocks[0].columns for f in c.stack) == sorted(names)


def test_a_job_without_blocks_is_written_out_when_it_is_first_changed():
    text = '[job]\ntitle = "t"\n[bay]\nlength = 1500\nwidth = 1400\nrail = 480\n'
    job = load_job(text)
    made = edited(text, arranging.set_in_block(text, job, "block[1].columns[1].width", 500))
    after = load_job(made)
    assert after.blocks[0].columns[0].width == 500.0
    assert [c.stack for c in after.blocks[0].columns] == [c.stack for c in job.blocks[0].columns]


def test_the_last_column_stays():
    text = "[job]\ntitle='t'\n[bay]\nlength=1500\nwidth=700\nrail=480\n[[block]]\ncolumns=[{}]\n"
    with pytest.raises(UnknownNameError):
        arranging.drop(text, load_job(text), "block[1].columns[1]")


@pytest.mark.parametrize("kind", starter_kinds())
def test_a_deck_can_be_added_to_every_kind(kind):
    text, job = start(kind)
    text = edited(text, arranging.add_deck(text, job))
    assert len(load_job(text).decks) == len(job.decks) + 1


def test_advice_that_is_a_change_can_be_made():
    catalogue = load_catalogue()
    text, job = start()
    text = edited(text, {"build.drawer_bottom": "ply-6", "carry": [
        {"what": "weights", "size": [300, 200, 100], "mass": 25, "quantity": 4},
    ]})  # fmt: skip
    job = load_job(text)
    findings = prove_design(design_job(job, catalogue=catalogue), catalogue=catalogue)
    advised = [f for f in findings if f.advice]
    assert advised
    ways = [way for f in advised for way in remedies(text, job, catalogue, f)]
    for way in ways:
        load_job(edited(text, way.edits))


def test_readings_typed_one_after_another_keep_their_fractions_and_units():
    assert readings_in("485.2 486,0; 486") == ["485.2", "486,0", "486"]
    assert readings_in("19 1/8 19 3/16 in") == ["19 1/8", "19 3/16 in"]
    assert readings_in("3' 11 1/16\" 1195 mm") == ["3' 11 1/16\"", "1195 mm"]
    assert readings_in("1/2 .5 -2,25in;3 ft 2") == ["1/2", ".5", "-2,25in", "3 ft 2"]
    for odd in ("12 x 3", "5,6,7", "10-20", "1" * 20_000 + "x"):
        assert readings_in(odd) == [odd]  # no reading: refused as it stands
    assert readings_in("  ") == []


def test_a_list_may_have_decimal_commas_and_its_mistakes_name_line_and_column():
    rows = carry_from_csv("what;length;width;height;mass\nrope;300;150,5;90;1,2", units="mm")
    assert rows == [{"what": "rope", "size": [300, 150.5, 90], "mass": 1.2}]
    with pytest.raises(JobError) as refused:
        carry_from_csv("what;length;width;height;mass\nrope;300;wide;90;1", units="mm")
    assert str(refused.value).startswith("line 2: width: found 'wide'")


def test_a_row_has_moved_when_rows_before_it_went_or_it_stands_elsewhere_now():
    def rows(*names):
        return "\n".join(f'[[carry]]\nwhat = "{name}"' for name in names)

    assert has_moved(rows("a", "b"), rows("b"), "carry[1].mass")
    assert has_moved(rows("a", "b", "c"), rows("b", "a", "c"), "carry[1]")
    assert not has_moved(rows("a", "b", "c"), rows("b", "a", "c"), "carry[3]")
    assert not has_moved(rows("a", "a"), rows("b", "a"), "carry[1]")  # the other was there before
    assert not has_moved(rows("a"), rows("a", "a"), "carry[1].what")
    assert not has_moved(rows("a"), rows("a"), "carry[3].what")
