"""A refit as a plan: marks and sizes asked for, sheets that are left, states and the way back."""

import json
import math
from dataclasses import replace

import pytest
from jsonschema import Draft202012Validator

from stowright.app.changes import changes_data, changes_since
from stowright.app.left_over import begun_sheets, sheets_left
from stowright.app.loading import load_catalogue, load_job
from stowright.app.outputs import OutputOptions
from stowright.app.plain import plain
from stowright.app.plan_before import Before, size_of, so_far_of
from stowright.app.plan_dict import plan_to_dict
from stowright.app.plan_schema import plan_schema
from stowright.app.planning import design_job, plan
from stowright.app.record_checks import require_marks
from stowright.app.refit_files import write_refit
from stowright.app.refitting import before_from, cut_what_is_left, refit_design, refit_plan
from stowright.app.states import go_back, keep_state, kept_states
from stowright.errors import JobError
from stowright.explore.build_record import pieces_cut, still_to_cut
from stowright.jobfile.places import with_lines

SHELF = load_catalogue()
TEXT = """format = 1
[job]
title = "An invented job"
[bay]
kind = "van"
length = 1400
width = 700
clear_height = 900
[build.measured_thickness]
ply-15 = [14.6]
ply-12 = [11.8]
[[block]]
name = "unit"
z = [0, 400]
columns = [ {stack = [ {fill = "drawer", name = "kit"} ]} ]
"""


def job(more=""):
    return load_job((TEXT + more).encode(), catalogue=SHELF)


@pytest.fixture(scope="module")
def first():
    """The plan that is cut from, as the data of its file."""
    return json.loads(json.dumps(plan_to_dict(plan(job(), catalogue=SHELF))))


def marks(data, **wanted):
    return [p["mark"] for p in data["parts"] if all(p[k] == v for k, v in wanted.items())]


def done(names):
    rows = ", ".join(f'{{mark = "{name}"}}' for name in names)
    return f'\n[[done]]\nstage = "cut"\nparts = [{rows}]\n'


def test_a_job_without_a_record_is_planned_as_ever():
    unit, refit, _ = refit_design(job(), SHELF)
    assert refit is None
    assert unit == design_job(job(), catalogue=SHELF)


def test_another_batch_is_the_reason_with_both_thicknesses(first):
    cut = marks(first, release="A")
    text = (TEXT + done(cut)).replace("ply-15 = [14.6]", "ply-15 = [14.2]")
    asked = load_job(text.encode(), catalogue=SHELF)
    made, refit, _ = refit_design(asked, SHELF, before=before_from(first))
    changes = changes_since(tuple(first["parts"]), made, refit)
    batch = "ply-15 measures 14.2 mm, not 14.6 mm as before"
    whys = {row.name: row.why for row in changes}
    assert whys["drawer inner front"] == (batch,)
    # its own sheet measures the same: it is longer because what it lies between is thinner
    assert whys["drawer bottom"] == (f"follows from what it meets: {batch}",)
    assert not {row.mark for row in changes} & set(cut)


@pytest.mark.parametrize(("taller", "told"), [(0.5, 0), (3.0, 1)])
def test_cut_parts_that_meet_are_told_by_their_marks_beyond_the_saws_tolerance(first, taller, told):
    """The saw taken holds a cut size within 0.75 mm."""
    back = next(part for part in first["parts"] if part["name"] == "back")
    size = [back["length"], back["width"] + taller, back["thickness"]]
    more = f'\n[[done]]\nstage = "cut"\nparts = [{{mark = "{back["mark"]}", size = {size}}}]\n'
    _, refit, _ = refit_design(job(more), SHELF, before=before_from(first))
    lines = [line for line in refit.open if "meet by" in line]
    assert len(lines) == told
    assert all(f"{back['mark']} back" in line and "take that off" in line for line in lines)


def test_an_unknown_mark_is_a_mistake_with_its_line_and_the_nearest_one():
    more = done(["A1"]).replace('"A1"', '"A1", size = [1, 1, 1]').replace("A1", "A111")
    text = TEXT + more
    with pytest.raises(JobError) as caught:
        refit_design(job(more), SHELF)
    (mistake,) = with_lines(caught.value.mistakes, text)
    line = next(n for n, row in enumerate(text.splitlines(), start=1) if "A111" in row)
    assert mistake.line == line
    assert mistake.nearest.startswith("A1")


@pytest.mark.parametrize(
    ("what", "of", "values"),
    [
        ("width", "kit", "[6580]"),
        ("width", "kit", "[658, 65.8]"),
        ("diagonals", "kit", "[750, 900]"),
        ("runner-thickness", "kit", "[40]"),
        ("height", "kit", "[200]"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_with_its_line(first, what, of, values):
    text = f'{TEXT}\n[[reading]]\nof = {{opening = "{of}", what = "{what}"}}\nvalues = {values}\n'
    with pytest.raises(JobError) as caught:
        refit_design(load_job(text.encode(), catalogue=SHELF), SHELF, before=before_from(first))
    (mistake,) = with_lines(caught.value.mistakes, text)
    assert mistake.line == len(text.splitlines())
    assert mistake.field == "reading[1].values"
    assert "planned" in mistake.allowed


@pytest.mark.parametrize(
    ("of", "what", "off"),
    [
        ('opening = "kit"', "width", (12.0, -12.0)),
        ('opening = "kit"', "height", (-3.0, 3.0)),
        ('opening = "kit"', "height", (-60.0,)),  # read under a rail
        ('opening = "kit"', "depth", (-60.0,)),  # read to the rail at the back
        ('opening = "kit"', "between-runners", (8.0, 8.0)),
        ('opening = "kit"', "runner-thickness", (6.4,)),  # of light and heavy ones one for another
        ('opening = "kit"', "runner-thickness", (-6.4,)),
        ('opening = "kit"', "box-width", (-30.0, -30.0)),  # read inside
        ('opening = "kit"', "diagonals", (1.0, -1.0)),
        ('block = "unit"', "width", (5.0, 9.0)),
        ('block = "unit"', "diagonals", (2.0, -2.0)),
        ('block = "unit"', "gap-left", (40.0, 300.0)),
    ],
)
def test_a_reading_that_may_be_is_taken(first, of, what, off):
    (block,) = design_job(job(), catalogue=SHELF).blocks
    (opening,) = block.openings
    thick = opening.runner.runner.thickness
    wide, high, deep = opening.width, opening.height, opening.depth
    if "block" in of:
        deep, wide, high = block.box.size
    planned = {
        "width": wide,
        "height": high,
        "depth": deep,
        "between-runners": wide - 2.0 * thick,
        "runner-thickness": thick,
        "box-width": opening.box.width,
        "gap-left": 0.0,
    }
    planes = ((wide, high), (wide, deep), (high, deep))
    plans = [math.hypot(*plane) for plane in planes] if what == "diagonals" else [planned[what]]
    for plan_ in plans:
        values = [round(plan_ + each, 3) for each in off]
        read = f'\n[[reading]]\nof = {{{of}, what = "{what}"}}\nvalues = {values}\n'
        _, refit, _ = refit_design(job(read), SHELF, before=before_from(first))
        assert refit is not None


def test_a_reading_that_leaves_no_drawer_is_refused_with_its_line():
    """Near its plan, and still no runner goes in: the reading is named, not the job's opening."""
    low = TEXT.replace("z = [0, 400]", "z = [0, 110]")
    plan_height = 110.0 - 2 * 14.6
    more = '\n[[reading]]\nof = {opening = "kit", what = "height"}\n'
    text = f"{low}{more}values = [{plan_height - 29.0:g}]\n"
    with pytest.raises(JobError) as caught:
        refit_design(load_job(text.encode(), catalogue=SHELF), SHELF)
    (mistake,) = with_lines(caught.value.mistakes, text)
    assert mistake.line == len(text.splitlines())
    assert "read it again" in mistake.allowed


def test_a_cut_size_that_cannot_be_is_refused(first):
    (side, *_) = marks(first, role="carcass-side")
    length, width, t = marks_size(first, side)
    swapped = done([side]).replace(f'"{side}"', f'"{side}", size = [{width}, {length}, {t}]')
    with pytest.raises(JobError, match="as planned"):
        refit_design(job(swapped), SHELF, before=before_from(first))


def test_a_reading_of_a_drawer_that_is_none_is_told():
    text = TEXT.replace(
        '{fill = "drawer", name = "kit"}',
        '{fill = "drawer", name = "kit"}, {fill = "open", name = "shelf", height = 120}',
    )
    read = '\n[[reading]]\nof = {opening = "shelf", what = "box-width"}\nvalues = [600]\n'
    _, refit, _ = refit_design(load_job((text + read).encode(), catalogue=SHELF), SHELF)
    assert any(line.startswith("shelf: box-width is kept") for line in refit.open)


def test_a_spoiled_copy_of_several_sizes_is_asked_for_with_its_line(first):
    twin = next(p for p in first["parts"] if p["quantity"] == 2)
    wide, low = ([twin["length"], twin["width"] - off, twin["thickness"]] for off in (0.0, 2.0))
    mark = twin["mark"]
    more = (
        f'\n[[done]]\nstage = "cut"\nparts = [{{mark = "{mark}", size = {wide}}}, '
        f'{{mark = "{mark}", size = {low}}}]\n[[spoiled]]\nmark = "{mark}"\n'
    )
    with pytest.raises(JobError) as caught:
        refit_plan(job(more), catalogue=SHELF, before=before_from(first))
    (mistake,) = with_lines(caught.value.mistakes, TEXT + more)
    assert mistake.field == "spoiled[1].mark"
    assert mistake.line is not None
    assert all(f"[{', '.join(f'{v:g}' for v in size)}]" in mistake.allowed for size in (wide, low))
    _, refit, _ = refit_design(job(f"{more}size = {low}\n"), SHELF, before=before_from(first))
    assert [(row.length, row.width) for row in refit.frozen] == [tuple(wide[:2])]


def test_a_copy_that_is_named_alone_speaks_of_itself_in_the_next_plan_too(first):
    twin = next(p for p in first["parts"] if p["quantity"] == 2)
    mark, low = twin["mark"], [twin["length"], twin["width"] - 2.0, twin["thickness"]]
    own = f'\n[[done]]\nstage = "cut"\nparts = [{{mark = "{mark}b", size = {low}}}]\n'
    unit, _, old = refit_design(job(own), SHELF, before=before_from(first))
    so_far = so_far_of(job(own), old, unit)
    assert f"{mark}b" in {part.mark for part in unit.parts}
    assert so_far.covers == ()
    # the other copy, cut since, is one piece more and not two
    now = replace(old, parts=tuple(plain(unit.parts)), so_far=so_far)
    assert pieces_cut(job(own + done([mark])), now.known()) == {mark: 1, f"{mark}b": 1}


def test_a_copy_told_apart_later_was_cut_as_the_others_of_its_mark(first):
    twin = next(p for p in first["parts"] if p["quantity"] == 2)
    mark, low = twin["mark"], [twin["length"], twin["width"] - 2.0, twin["thickness"]]
    rows = f'{{mark = "{mark}"}}, {{mark = "{mark}", size = {low}}}'
    more = f'\n[[done]]\nstage = "cut"\nparts = [{rows}]\n'
    old = before_from(first)
    for _ in range(3):
        unit, refit, _ = refit_design(job(more), SHELF, before=old)
        so_far = so_far_of(job(more), old, unit)
        now = {piece.id: piece.mark for piece in unit.placed}
        old = Before(parts=tuple(plain(unit.parts)), marks=now, so_far=so_far)
        assert so_far.covers == ((mark, (2, 0)),)
        cut = {part["mark"]: size_of(part) for part in old.as_cut(job(more))}
        assert cut[mark] == cut[f"{mark}b"] == size_of(twin)
        assert {row.width: bool(row.features) for row in refit.frozen} == {
            twin["width"]: True,
            low[1]: False,  # cut to another size than the plan, so not made to it
        }


def test_of_copies_that_are_cut_only_the_one_that_no_longer_serves_is_cut_new():
    text = TEXT.replace('name = "kit"}', 'name = "kit"}, {fill = "drawer", name = "two"}')
    unit = design_job(load_job(text.encode(), catalogue=SHELF), catalogue=SHELF)
    mark = {piece.id: piece.mark for piece in unit.placed}
    left, right = mark["kit/side-left"], mark["kit/side-right"]
    assert (left, right) == (mark["two/side-left"], mark["two/side-right"])
    whole = unit.part(left)
    low = [whole.length - 2.0, whole.width - 1.0, whole.thickness]
    rows = f'{{mark = "{right}"}}, {{mark = "{left}"}}, {{mark = "{left}", size = {low}}}'
    asked = load_job(f'{text}[[done]]\nstage = "cut"\nparts = [{rows}]\n'.encode(), catalogue=SHELF)
    old, found = Before(parts=tuple(plain(unit.parts)), marks=mark), []
    for _ in range(3):
        made, refit, _ = refit_design(asked, SHELF, before=old)
        (gone,) = refit.no_longer
        assert (gone.pieces, gone.new_parts, gone.size) == (("two/side-right",), 1, tuple(low[:2]))
        kept = {name for row in refit.frozen for name in row.pieces}
        assert kept == {"kit/side-left", "kit/side-right", "two/side-left"}
        found.append(made.parts)
        so_far = so_far_of(asked, old, made)
        mark = {piece.id: piece.mark for piece in made.placed}
        old = Before(parts=tuple(plain(made.parts)), marks=mark, so_far=so_far)
    assert found[0] == found[1] == found[2]
    _, (wanted, _) = cut_what_is_left(made, SHELF, refit, old)
    again = {part.mark: part.quantity for part in wanted}
    assert again[mark["two/side-right"]] == 1
    assert not again.keys() & {mark["kit/side-left"], mark["kit/side-right"]}


def test_parts_without_a_size_need_the_plan_they_were_cut_from(first):
    more = done(["A1", "A2"])
    with pytest.raises(JobError) as caught:
        refit_design(job(more), SHELF)
    assert len(str(caught.value).splitlines()) == 1
    assert "A1, A2" in str(caught.value)
    unit, refit, _ = refit_design(job(more), SHELF, before=before_from(first))
    assert {row.mark for row in refit.frozen} == {"A1", "A2"}
    assert unit.part("A1").length == marks_size(first, "A1")[0]


def marks_size(data, mark):
    part = next(p for p in data["parts"] if p["mark"] == mark)
    return part["length"], part["width"], part["thickness"]


@pytest.mark.parametrize("data", [None, [], {}, {"parts": 3}, {"parts": [], "placed": [{}]}])
def test_what_is_no_plan_is_refused(data):
    with pytest.raises(JobError):
        before_from(data)


def test_only_what_is_left_is_laid_out_and_a_spoiled_part_again(first):
    cut = marks(first, release="A", material="ply-15")
    spoiled = cut[0]
    more = done(cut) + f'\n[[spoiled]]\nmark = "{spoiled}"\n'
    made = refit_plan(job(more), catalogue=SHELF, before=before_from(first))
    laid = [piece.mark for row in made.plan.cutting.layouts for piece in row.pieces]
    assert laid.count(spoiled) == 1
    assert not set(laid) & (set(cut) - {spoiled})
    assert set(marks(first, release="B")) <= set(laid)
    assert made.changes == ()
    told = [line for line in made.refit.reasons if line.startswith(f"{spoiled} ")]
    assert len(told) == 1
    assert "cut again" in told[0]


def test_a_part_that_is_cut_new_is_told_with_the_size_that_the_design_gives_it(first):
    """A front far too narrow grows into its gaps only: words, list and drawing say the same."""
    (front,) = marks(first, role="drawer-front")
    width = first["blocks"][0]["modules"][0]["openings"][0]["width"]
    read = f'\n[[reading]]\nof = {{opening = "kit", what = "width"}}\nvalues = [{width + 9}]\n'
    unit, refit, _ = refit_design(job(done([front]) + read), SHELF, before=before_from(first))
    (row,) = (row for row in refit.no_longer if row.mark == front)
    part = unit.part(front)
    assert row.size == (part.length, part.width)
    assert f"{part.length:g} x {part.width:g} mm" in row.words
    assert row.words in refit.reasons


def plan_data(made):
    return json.loads(json.dumps(plan_to_dict(made.plan)))


def test_a_refit_from_the_plan_of_a_refit_is_the_same_though_a_part_is_to_be_cut_new(first):
    """The front still stands as done in its old size; its new one is still to be cut."""
    (front,) = marks(first, role="drawer-front")
    sides = marks(first, role="carcass-side")
    width = first["blocks"][0]["modules"][0]["openings"][0]["width"]
    read = f'\n[[reading]]\nof = {{opening = "kit", what = "width"}}\nvalues = [{width + 9}]\n'
    asked = job(done([front, *sides]) + read)
    once = refit_plan(asked, catalogue=SHELF, before=before_from(first))
    data = plan_data(once)
    Draft202012Validator(plan_schema()).validate(data)
    twice = refit_plan(asked, catalogue=SHELF, before=before_from(data))
    assert [row.mark for row in twice.refit.no_longer] == [front]
    assert twice.refit.no_longer == once.refit.no_longer
    assert twice.changes == ()
    again = plan_data(twice)
    assert {key: again[key] for key in ("parts", "placed", "fixings", "cutting")} == {
        key: data[key] for key in ("parts", "placed", "fixings", "cutting")
    }
    assert again["refit"]["so_far"] == data["refit"]["so_far"]
    # once it is cut it stands in the record again, and serves
    cut = job(done([front, *sides]) + done([front]) + read)
    after = refit_plan(cut, catalogue=SHELF, before=before_from(data))
    assert after.refit.no_longer == ()
    laid = [piece.mark for row in after.plan.cutting.layouts for piece in row.pieces]
    assert front not in laid
    new = next(p for p in data["parts"] if p["mark"] == front)
    assert after.plan.design.part(front).length == new["length"]


def test_the_layouts_of_what_is_left_are_proved(first):
    made = refit_plan(
        job(done(marks(first, release="A"))), catalogue=SHELF, before=before_from(first)
    )
    (found,) = (row for row in made.plan.findings if row.id.startswith("CUT-REPLAY"))
    assert found.status == "pass", found.working


def test_a_part_spoiled_at_the_saw_is_gone_from_its_sheet_and_cut_again(first):
    mark = marks(first, role="carcass-floor")[0]
    spoiled = f'\n[[spoiled]]\nmark = "{mark}"\n'
    before = before_from(first)
    (begun,) = (s for s in sheets_left(job(spoiled), SHELF, ("ply-15",), before) if s.defects)
    assert len(begun.defects) == 1
    unit, refit, _ = refit_design(job(spoiled), SHELF, before=before)
    assert any("cut again" in line for line in refit.reasons)
    left = still_to_cut(unit.job, [(mark, mark)], {})
    assert left == {mark: 1}
    again = job(done([mark]) + spoiled + done([mark]))
    assert still_to_cut(again, [(mark, mark)], {}) == {mark: 0}
    # of two copies that are named one by one, one spoiled, one is still to be cut
    two = job(done([mark, mark]) + spoiled)
    assert still_to_cut(two, [(mark, mark)] * 2, {}) == {mark: 1}


def test_what_is_cut_from_a_begun_sheet_later_is_gone_from_that_sheet(first):
    """The second refit goes on from the plan of the first one."""
    sides = marks(first, role="carcass-side")
    floor = marks(first, role="carcass-floor")
    once = refit_plan(job(done(sides)), catalogue=SHELF, before=before_from(first))
    later = job(done(sides) + done(floor))
    sheets = begun_sheets(later, before_from(plan_data(once)))
    gone = sum(len(sheet.gone) for sheet in sheets)
    assert gone == len(sides) + len(floor)
    assert len({sheet.id for sheet in sheets}) == len(sheets)


def test_what_is_cut_out_of_a_sheet_is_gone(first):
    cut = marks(first, release="A", material="ply-15")
    rows = sheets_left(job(done(cut)), SHELF, ("ply-15",), before_from(first))
    begun = [row for row in rows if row.id.endswith(("begun 1", "begun 2"))]
    assert begun
    kept = {
        (round(piece["x"], 3), round(piece["y"], 3))
        for layout in first["cutting"]["layouts"]
        for piece in layout["pieces"]
        if piece["mark"] in cut
    }
    kerf = first["cutting"]["layouts"][0]["kerf"]
    gone = {(round(x + kerf, 3), round(y + kerf, 3)) for row in begun for x, y, _, _ in row.defects}
    assert gone == kept


def test_a_begun_sheet_that_is_misspelt_is_told_with_the_nearest_and_all_that_are_begun(first):
    """It would count as one sheet more, and its damage would be forgotten."""
    cut = done(marks(first, role="carcass-side"))
    begun, *more = (row.id for row in begun_sheets(job(cut), before_from(first)))
    row = '\n[[sheet]]\nid = "{}"\nmaterial = "ply-15"\nsize = [2440, 1220]\n'
    for wrong in (begun.replace("begun", "begn"), begun.replace("begun 1", "begun 7")):
        with pytest.raises(JobError) as caught:
            refit_plan(job(cut + row.format(wrong)), catalogue=SHELF, before=before_from(first))
        (mistake,) = caught.value.mistakes
        assert mistake.field == "sheet[1].id"
        assert mistake.nearest == begun or "7" in wrong
        assert all(name in mistake.allowed for name in (begun, *more))
    for own in (begun, "S1", begun.partition(",")[0]):
        refit_design(job(cut + row.format(own)), SHELF, before=before_from(first))


def test_a_sheet_with_a_long_name_is_not_taken_for_its_begun_one(first, monkeypatch):
    cut = job(done(marks(first, role="carcass-side")))
    before, name = before_from(first), "left over from the shed, once a table top"
    begun = replace(begun_sheets(cut, before)[0], id=f"{name}, begun 1", sheet=name)
    monkeypatch.setattr("stowright.app.left_over.begun_sheets", lambda *_: (begun,))
    row = '\n[[sheet]]\nid = "{}"\nmaterial = "ply-15"\nsize = [2440, 1220]\n'
    for own in (name, f"{name} 2", begun.id):
        require_marks(job(row.format(own)), before, told=True)
    with pytest.raises(JobError):
        require_marks(job(row.format(f"{name}, begn 1")), before, told=True)


def test_a_damaged_sheet_keeps_its_bad_place_free(first):
    sheet = """
[[sheet]]
id = "S1"
material = "ply-15"
size = [2440, 1220]
count = 2
defects = [[0, 0, 300, 200]]
"""
    made = refit_plan(job(sheet), catalogue=SHELF, before=before_from(first))
    pieces = [p for row in made.plan.cutting.layouts if row.sheet == "S1" for p in row.pieces]
    assert pieces
    assert all(piece.x >= 300 or piece.y >= 200 for piece in pieces)


def test_the_old_and_the_new_size_stand_side_by_side(first):
    width = first["blocks"][0]["modules"][0]["openings"][0]["width"]
    of = '{opening = "kit", what = "width"}'
    more = f"\n[[reading]]\nof = {of}\nvalues = [{width}, {width - 1.5}]\n"
    made = refit_plan(job(more), catalogue=SHELF, before=before_from(first))
    inner = next(row for row in made.changes if row.name == "drawer inner front")
    assert inner.old == marks_size(first, inner.mark)
    assert inner.new[0] == inner.old[0] - 1.5
    assert any("1.5 mm narrower" in why for why in inner.why)
    data = changes_data(made)
    assert json.loads(json.dumps(data))["changes"][0]["mark"]
    assert data["chances"][0]["recut_and_shimmed"] >= 0.995


def test_the_plan_tells_each_change_old_and_new_with_its_reason(first):
    assert first["refit"] is None
    width = next(o["width"] for b in first["blocks"] for m in b["modules"] for o in m["openings"])
    read = f'[[reading]]\nof = {{opening = "kit", what = "width"}}\nvalues = [{width - 2.0}]\n'
    cut = done(marks(first, release="A")) + read
    made = refit_plan(job(cut), catalogue=SHELF, before=before_from(first))
    data = json.loads(json.dumps(plan_to_dict(made.plan)))
    Draft202012Validator(plan_schema()).validate(data)
    changes = {row["mark"]: row for row in data["refit"]["changes"]}
    (inner, *_) = marks(first, role="drawer-inner-front")
    assert changes[inner]["new"][0] == changes[inner]["old"][0] - 2.0
    assert any("2 mm narrower" in line for line in changes[inner]["why"])
    assert {row["mark"] for row in data["refit"]["frozen"]} == set(marks(first, release="A"))
    for mark in marks(first, release="A"):
        old, new = (next(p for p in d["parts"] if p["mark"] == mark) for d in (first, data))
        assert all(old[key] == new[key] for key in ("length", "width", "thickness", "outline"))
        bare = [
            [{k: f[k] for k in ("kind", "face", "at", "size")} for f in p["features"]]
            for p in (old, new)
        ]
        assert bare[0] == bare[1]


def test_every_state_is_kept_and_going_back_is_possible(first, tmp_path):
    file, out = tmp_path / "job.toml", tmp_path / "out"
    before = before_from(first)
    for more in ("", '\n[[reading]]\nof = {opening = "kit", what = "width"}\nvalues = [600.0]\n'):
        file.write_text(TEXT + more)
        made = refit_plan(job(more), catalogue=SHELF, before=before)
        paths, _ = write_refit(made, out, OutputOptions(), job=file.read_bytes())
    assert {"plan.json", "changes.json", "changes.pdf"} <= {path.name for path in paths}
    assert [state.number for state in kept_states(out)] == [1, 2]
    again = refit_plan(job(more), catalogue=SHELF, before=before)
    write_refit(again, out, OutputOptions(), job=file.read_bytes())
    assert len(kept_states(out)) == 2, "the same state is not kept twice"
    go_back(out, 1, file)
    assert file.read_text() == TEXT
    go_back(out, 2, file)
    assert file.read_text() == TEXT + more
    assert not list((out / "states").glob(".*"))


def test_going_back_keeps_what_stood_there(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text("one")
    keep_state(tmp_path, b"one", {}, "first")
    file.write_text("two, not kept yet")
    go_back(tmp_path, 1, file)
    assert file.read_text() == "one"
    assert (kept_states(tmp_path)[-1].folder / "job.toml").read_text() == "two, not kept yet"
    with pytest.raises(JobError):
        go_back(tmp_path, 9, file)
    with pytest.raises(JobError):
        go_back(tmp_path, -5, file)
