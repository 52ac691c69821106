"""What a job becomes: units, defaults, names, overrides, heights."""

from dataclasses import fields

import pytest

from stowright.errors import JobError
from stowright.jobfile import KnownNames, load_job, read_job
from stowright.model.job import Build

MINIMAL = '[job]\ntitle = "x"\n[bay]\nlength = 1494\nwidth = 1392\nrail = 486\n'
VAN = '[job]\ntitle = "x"\n[bay]\nlength = 2400\nwidth = 1700\nclear_height = 1400\n'

#: The contract's own words: the values shown in [job] and [build] and the others that it names.
CONTRACT_BUILD = {
    "method": "hand", "saw": "track", "carcass": "ply-15", "drawer": "ply-15",
    "drawer_bottom": "ply-12", "front_sheet": "ply-15", "deck_sheet": "ply-15", "runner": "auto",
    "joint": "butt", "carcass_kind": "box", "top": "rails", "rails": 3, "rail_width": 90.0,
    "back": "panel", "between_fills": "shelf", "bottom_fit": "grooved", "groove_depth": 6.0,
    "groove_up": 10.0, "front": "inset", "lever": "notch", "front_gap": 3.0, "under_gap": 8.0,
    "over_gap": 10.0, "side_clear": 5.0, "end_clear": 10.0, "back_room": 10.0, "module_gap": 1.0,
    "grain": "long", "runner_up": 0.0, "handle_projection": 0.0, "finish": "clear",
}  # fmt: skip


def assumed(job):
    return {row.field: row.value for row in job.assumed}


def test_a_title_and_a_bay_are_enough_and_the_defaults_are_the_contracts():
    job = read_job(MINIMAL)
    for key, value in CONTRACT_BUILD.items():
        assert getattr(job.build, key) == value, key
    assert (job.build.packers.how, job.build.packers.sheet) == ("on-ribs", "ply-12")
    assert (job.build.lining.drawer, job.build.lining.carcass, job.build.lining.bay) == (0, 0, 0)
    assert (job.units, job.rules, job.road, job.cut_grid) == ("mm", "light-envelope", "sealed", 0.5)
    assert job.bay.reading_error == 2.0
    assert job.bay.height_from == "rib-top"
    (block,) = job.blocks
    assert (block.place.word, block.modules, block.over_arches) == ("fill", "separate", "no")
    assert block.clear_at_face == 45.0
    (deck,) = job.decks
    assert (deck.below_rail, deck.top, deck.overhang, deck.kind) == (45.0, None, 0.0, "fixed")
    assert deck.over == (block.name,)


def test_every_default_is_listed_once_with_its_value_and_reason():
    job = read_job(MINIMAL)
    rows = assumed(job)
    assert len(rows) == len(job.assumed)
    for field in fields(Build):
        if getattr(job.build, field.name) is not None and field.name not in (
            "packers",
            "lining",
            "handle_projection",
            "runner_factors",
            "runner_stated",  # nothing is stated until somebody does
        ):
            assert f"build.{field.name}" in rows
    assert rows["build.front_gap"] == "3 mm"
    assert rows["build.packers.how"] == "on-ribs"
    assert rows["bay.reading_error"] == "2 mm"
    assert rows["block[1].clear_at_face"] == "45 mm"
    assert rows["deck[1].below_rail"] == "45 mm"
    assert all(row.why.endswith(")") for row in job.assumed)
    assert not {"job.title", "bay.length", "bay.width", "bay.rail"} & set(rows)


def test_what_the_job_says_is_no_assumption():
    job = read_job(MINIMAL + "reading_error = 3\n[build]\nfront_gap = 4\n")
    assert "bay.reading_error" not in assumed(job)
    assert "build.front_gap" not in assumed(job)
    assert job.build.front_gap == 4.0


def test_the_default_block_has_two_drawers_over_800_of_least_width_and_one_below():
    assert len(read_job(MINIMAL).blocks[0].columns) == 2
    narrow = MINIMAL.replace("1392", "1200") + (
        "arches = [{side='left', start=300, end=900, height=200, reach=210},"
        "{side='right', start=300, end=900, height=200, reach=210}]\n"
    )
    assert len(read_job(narrow).blocks[0].columns) == 1
    assert len(read_job(narrow + "between = [{at=500, width=800}]\n").blocks[0].columns) == 1
    assert len(read_job(narrow + "between = [{at=500, width=800.5}]\n").blocks[0].columns) == 2


def test_kinds_of_bay_and_decks_follow_from_the_height_that_is_given():
    assert read_job(MINIMAL).bay.kind == "tub"
    van = read_job(VAN)
    assert (van.bay.kind, van.bay.rail, van.decks) == ("van", None, ())
    assert van.blocks[0].place.z is not None  # no rail: the block itself says how high it stands
    assert assumed(van)["block[1].z"].endswith("mm")


def test_a_job_with_blocks_gets_no_deck_and_one_with_a_deck_keeps_only_that():
    assert read_job(MINIMAL + '[[block]]\nname = "b"\n').decks == ()
    (deck,) = read_job(MINIMAL + "[[deck]]\ntop = 430\n").decks
    assert (deck.top, deck.over, deck.name) == (430.0, ("drawers",), "deck")
    decks = read_job(MINIMAL + '[[deck]]\n[[deck]]\nname = "deck"\n[[deck]]\n').decks
    assert [deck.name for deck in decks] == ["deck 2", "deck", "deck 3"]


def test_an_inch_job_reads_bare_numbers_as_inches_and_takes_the_same_defaults():
    text = MINIMAL.replace('"x"', '"x"\nunits = "in"').replace("1494", '"58 13/16"')
    job = read_job(text.replace("1392", "54.75").replace("486", '"486 mm"'))
    # 58 13/16 in = 58.8125 * 25.4, 54.75 * 25.4
    assert (job.bay.length, job.bay.width, job.bay.rail) == (1493.8375, 1390.65, 486.0)
    assert job.build == read_job(MINIMAL).build
    assert job.cut_grid == 0.5
    assert assumed(job)["build.front_gap"] == "1/8 in (3 mm)"
    assert assumed(job)["build.lining.bay"] == "0 in"


def test_one_width_stands_for_a_station_on_the_floor_and_stations_refine_it():
    job = read_job(MINIMAL)
    (station,) = job.bay.widths
    assert (station.at, station.height, station.left, station.right) == (0, 0, 696, 696)
    assert station.centred
    (length,) = job.bay.lengths
    assert (length.height, length.y, length.length) == (0, 0, 1494)
    job = read_job(
        MINIMAL + "widths = [{at=0, height=0, width=1390}, {at=700, height=0, left=694, right=695},"
        "{at=700, height=400, width=1420, left=705}]\n"
    )
    assert [(s.left, s.right, s.centred) for s in job.bay.widths] == [
        (695.0, 695.0, True),
        (694.0, 695.0, False),
        (705.0, 715.0, False),
    ]
    # stations above the floor alone leave the plain width to the floor
    job = read_job(MINIMAL + "widths = [{at=700, height=400, width=1420}]\n")
    assert [(s.height, s.width) for s in job.bay.widths] == [(0, 1392), (400, 1420)]


def test_heights_from_the_valleys_lose_the_depth_of_the_ribs():
    job = read_job(
        MINIMAL + 'height_from = "valley"\nclear_height = 900\nfloor = {rib_depth = 9}\n'
        "widths = [{at=0, height=0, width=1392}, {at=0, height=400, width=1400}]\n"
        "lengths = [{height=400, length=1480}]\ntail_lean = [{height=400, x=20}]\n"
        "arches = [{side='left', start=300, end=900, height=228, reach=140}]\n"
        "keep_out = [{what='lamp', x=[0, 90], y=[600, 690], z=[180, 420]}]\n"
        "no_drill = [{surface='left', x=[0, 90], z=[100, 200]}]\n"
        "anchors = [{surface='left', x=90, y=690, z=300}, {x=95, y=480}]\n"
        "[[bay.opening]]\nwidth=1300\nheight=470\n[bay.tailgate]\nopen_top=-15\n"
    )
    bay = job.bay
    assert (bay.rail, bay.clear_height) == (477.0, 891.0)
    assert [s.height for s in bay.widths] == [-9.0, 391.0]
    assert [s.height for s in bay.lengths] == [-9.0, 391.0]
    assert bay.tail_lean[0].height == 391.0
    assert bay.arches[0].height == 219.0
    assert (bay.keep_out[0].box.z.low, bay.keep_out[0].box.z.high) == (171.0, 411.0)
    assert bay.no_drill[0].b == (91.0, 191.0)
    assert [anchor.z for anchor in bay.anchors] == [291.0, 0.0]
    # a sill level with the valley lies under the rib tops: that much clear height is lost
    assert (bay.openings[0].sill_rise, bay.openings[0].height) == (0.0, 461.0)
    assert bay.tailgate.open_top == -24.0
    assert "9 mm taken off" in next(
        row.value for row in job.assumed if row.field == "bay.height_from"
    )


def test_names_are_made_up_only_where_none_is_given_and_never_twice():
    job = read_job(
        MINIMAL + '[[block]]\nname = "block 2"\ncolumns = [{stack = [{name = "drawer 1"}]}]\n'
        '[[block]]\ncolumns = [{stack = [{}, {fill = "locker"}]}, {}]\n[[block]]\n'
    )
    assert [block.name for block in job.blocks] == ["block 2", "block 1", "block 3"]
    names = [f.name for b in job.blocks for c in b.columns for f in c.stack]
    assert names == ["drawer 1", "drawer 2", "locker 1", "drawer 3", "drawer 4", "drawer 5"]
    assert assumed(job)["block[2].columns[1].stack[2].door"] == "drop"


def test_overrides_resolve_to_a_whole_build_on_each_body():
    job = read_job(
        MINIMAL + '[[block]]\nname = "b"\ncarcass = "birch-15"\nlining = {carcass = 1}\n'
        "packers = {how = 'none'}\n"
        "columns = [{drawer = 'ply-12', stack = [{lining = 3, front_gap = 2, "
        "handle = {projection = 9}}]}, {lining = 2}]\n[build]\nlining = {drawer = 1, bay = 4}\n"
    )
    (block,) = job.blocks
    first, second = block.columns
    assert (job.build.carcass, block.build.carcass) == ("ply-15", "birch-15")
    assert (block.build.packers.how, block.build.packers.sheet) == ("none", "ply-12")
    assert (first.build.drawer, second.build.drawer) == ("ply-12", "ply-15")
    fill = first.stack[0]
    assert (fill.build.carcass, fill.build.drawer, fill.build.front_gap) == (
        "birch-15",
        "ply-12",
        2,
    )
    assert fill.build.handle_projection == 9.0
    lining = fill.build.lining  # a number alone is the drawer's lining
    assert (lining.drawer, lining.carcass, lining.bay) == (3.0, 1.0, 4.0)
    assert second.build.lining.drawer == 2.0
    assert second.stack[0].build.lining == second.build.lining


def test_long_and_short_form_of_columns_mean_the_same():
    short = (
        '[[block]]\nname = "b"\n'
        'columns = [{width = "share", stack = [{fill = "tray", sides = 60}]},'
        '{width = 400, least = "300 mm"}]\n'
    )
    long = (
        '[[block]]\nname = "b"\n[[block.columns]]\nwidth = "share"\n[[block.columns.stack]]\n'
        'fill = "tray"\nsides = 60\n[[block.columns]]\nwidth = 400\nleast = "300 mm"\n'
    )
    assert read_job(MINIMAL + short).blocks == read_job(MINIMAL + long).blocks


@pytest.mark.parametrize(
    "written",
    [
        'place = "left"\nbeside = "a"\nx = [0, 700]',
        'place = {word = "left", beside = "a", x = [0, 700]}',
        'place = {word = "left", beside = "a"}\nx = [0, 700]',
    ],
)
def test_a_place_can_be_written_in_the_block_or_as_a_table(written):
    place = read_job(MINIMAL + f'[[block]]\nname = "a"\n[[block]]\n{written}\n').blocks[1].place
    assert (place.word, place.beside, place.x, place.y, place.z) == (
        "left",
        "a",
        (0, 700),
        None,
        None,
    )


def test_fills_carry_what_was_asked_of_them():
    text = (
        "columns = [{stack = [{fill='drawer', lock=true, latch=true}, "
        "{fill='open', net=true, cable_way=30, vent=60, height=200},"
        "{fill='drawer', lock='out', latch='slam', net=false, weight=2, least=150}]}]\n"
    )
    first, second, third = read_job(MINIMAL + "[[block]]\n" + text).blocks[0].columns[0].stack
    assert (first.lock, first.latch, first.net) == ("in-out", "", False)
    assert (second.net, second.cable_way, second.vent, second.height) == (True, 30.0, 60.0, 200.0)
    assert (third.lock, third.latch, third.weight, third.least) == ("out", "slam", 2.0, 150.0)


def test_points_on_walls_take_what_the_wall_tells_and_unknown_forces_are_unknown():
    bay = read_job(
        MINIMAL + "anchors = [{surface='right', x=100, tension='unknown'},"
        "{surface='cab', y=0, z=200, shear=900}]\n"
        "belts = [{what='belt', surface='left', x=1400}]\n"
    ).bay
    assert (bay.anchors[0].y, bay.anchors[0].z, bay.anchors[0].tension) == (-696.0, 0.0, None)
    assert (bay.anchors[1].x, bay.anchors[1].z, bay.anchors[1].shear) == (1494.0, 200.0, 900.0)
    assert (bay.belts[0].y, bay.belts[0].z) == (696.0, 0.0)


def test_areas_without_a_range_are_the_whole_of_their_surface():
    bay = read_job(MINIMAL + "no_drill = [{surface='floor'}]\nkeep_out = [{x=[0, 50]}]\n").bay
    assert (bay.no_drill[0].a, bay.no_drill[0].b) == ((0.0, 1494.0), (-696.0, 696.0))
    assert (bay.keep_out[0].box.y.low, bay.keep_out[0].box.z.low) == (-696.0, 0.0)


def test_side_doorways_are_a_start_and_a_width_or_a_range():
    doors = (
        "[[bay.opening]]\nface='left'\nat=900\nwidth=800\n"
        "[[bay.opening]]\nface='right'\nx=[900, 1700]\n"
    )
    left, right = read_job(VAN + doors).bay.openings
    assert (left.at, left.width) == (right.at, right.width) == (900.0, 800.0)


def test_readings_taken_twice_at_one_place_leave_the_lesser():
    bay = read_job(MINIMAL + "widths = [{at=0, width=1392}, {at=0, width=1390}]\n").bay
    assert [station.width for station in bay.widths] == [1390.0]


def test_the_record_of_the_build_is_kept():
    job = read_job(
        MINIMAL + "[[sheet]]\nmaterial='ply-15'\nsize=[2440, 1220]\nthickness=14.6\n"
        "defects=[[0, 0, 80, 60]]\n"
        "[[done]]\nstage='cut'\nparts=['A1', {mark='A2', size=[1430, 409, 14.6]}]\n"
        "[[spoiled]]\nmark='A3'\n"
        "[[reading]]\nof={opening='drawer 1', what='between-runners'}\nvalues=[514, 514.5]\n"
        "[[reading]]\nof={block='drawers', what='diagonals'}\nvalues=[1500, 1501]\n"
    )
    (sheet,) = job.sheets
    assert (sheet.id, sheet.length, sheet.thickness, sheet.count) == ("S1", 2440, (14.6,), 1)
    assert [part.size for part in job.done[0].parts] == [None, (1430.0, 409.0, 14.6)]
    assert job.spoiled[0].mark == "A3"
    assert [(r.opening, r.block, r.values) for r in job.readings] == [
        ("drawer 1", "", (514.0, 514.5)),
        ("", "drawers", (1500.0, 1501.0)),
    ]


def test_a_byte_order_mark_bytes_and_windows_line_ends_are_read():
    expected = read_job(MINIMAL)
    assert read_job("\ufeff" + MINIMAL) == expected
    assert read_job(MINIMAL.encode("utf-8-sig")) == expected
    assert read_job(MINIMAL.replace("\n", "\r\n").encode()) == expected


def test_a_job_is_read_from_its_file(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(MINIMAL)
    assert load_job(file) == read_job(MINIMAL)
    with pytest.raises(JobError, match="no such file"):
        load_job(tmp_path / "other.toml")
    with pytest.raises(JobError):
        load_job(tmp_path)


def test_names_are_checked_against_the_shop_only_where_it_has_any():
    text = MINIMAL + '[build]\ncarcass = "oak-15"\nrunner = "heavy"\n'
    assert read_job(text).build.carcass == "oak-15"
    names = KnownNames(materials=("ply-15", "ply-12"), runners=("heavy-76",))
    with pytest.raises(JobError) as caught:
        read_job(text, catalogue_names=names)
    told = {mistake.field: mistake.nearest for mistake in caught.value.mistakes}
    assert told == {"build.carcass": "", "build.runner": "heavy-76"}


def test_each_factor_on_a_runners_rating_can_be_changed_by_name_and_place():
    job = read_job(
        MINIMAL
        + """
[build]
runner_factors = {vehicle = 0.6, length = false}
[[block]]
name = "side"
columns = [ {stack = [ {fill = "drawer", runner_factors = {width = false}} ]} ]
"""
    )
    assert (job.build.runner_factors.vehicle, job.build.runner_factors.length) == (0.6, False)
    assert (job.build.runner_factors.flat, job.build.runner_factors.width) == (0.25, True)
    fill = job.blocks[0].columns[0].stack[0]
    assert (fill.build.runner_factors.vehicle, fill.build.runner_factors.width) == (0.6, False)


def test_a_factor_above_one_is_a_mistake():
    with pytest.raises(JobError, match="at most 1"):
        read_job(MINIMAL + "[build]\nrunner_factors = {vehicle = 1.5}\n")


def test_the_service_class_is_taken_from_the_bay_and_can_be_said():
    open_above = read_job(MINIMAL)
    assert open_above.service_class == 3
    assert assumed(open_above)["job.service_class"] == "3"
    said = read_job(MINIMAL.replace("[job]", "[job]\nservice_class = 1"))
    assert said.service_class == 1
    assert "job.service_class" not in assumed(said)


def test_a_service_class_that_is_none_is_a_mistake():
    with pytest.raises(JobError, match="service_class"):
        read_job(MINIMAL.replace("[job]", "[job]\nservice_class = 4"))


def test_nobody_on_board_at_the_second_slip_is_read():
    slip = "[vehicle]\nweighed_after = {front_axle = 1, rear_axle = 1, people = 0}\n"
    assert read_job(MINIMAL + slip).vehicle.weighed_after.people == 0
    with pytest.raises(JobError, match="from 0 to 1000"):
        read_job(MINIMAL + slip.replace("people = 0", "people = -1"))


def test_deck_cargo_is_read_with_its_place_and_straps():
    text = (
        MINIMAL + '[[carry]]\nwhat = "tent"\nsize = [900, 400, 250]\nmass = 25\non = "deck"\n'
        'at = [700, -50]\nlash = {count = 4, to = "unit"}\n'
    )
    item = read_job(text).carry[0]
    assert (item.on, item.at) == ("deck", (700.0, -50.0))
    assert (item.lash.strap, item.lash.count, item.lash.to) == ("cam-strap-25", 4, ("unit",))


def test_what_a_runners_maker_states_is_read_for_the_job_and_for_one_opening():
    text = (
        MINIMAL + "[build]\nrunner_stated = {lateral = 300, stop = 500}\n"
        '[[block]]\ncolumns = [{stack = [{name = "a", runner_stated = {lateral = 900}}]}]\n'
    )
    job = read_job(text)
    assert (job.build.runner_stated.lateral, job.build.runner_stated.stop) == (300.0, 500.0)
    own = job.blocks[0].columns[0].stack[0].build.runner_stated
    assert (own.lateral, own.stop, own.lock) == (900.0, 500.0, None)


def test_heights_from_valleys_whose_ribs_nobody_read_lose_deep_ones_and_say_so():
    for floor in ("", "floor = {thickness = 1}\n"):
        job = read_job(MINIMAL + 'height_from = "valley"\n' + floor)
        # the rail of the minimal job is 486; 15 are taken where the job says nothing of ribs
        assert job.bay.rail == 471.0
        assert job.bay.floor.rib_depth == 15.0
        assert "15 mm" in {row.value for row in job.assumed if row.field == "bay.floor.rib_depth"}
        assert any(line.startswith("bay.height_from: valley") for line in job.warnings)
    flat = read_job(MINIMAL + 'height_from = "valley"\nfloor = {rib_depth = 0}\n')
    assert (flat.bay.rail, flat.bay.floor.rib_depth) == (486.0, 0.0)
