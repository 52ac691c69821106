"""What a step prints: its hold point in the job's unit, the figures that it is done from."""

from stowright.book.step_details import step_details
from stowright.book.step_references import step_references
from stowright.book.step_rows import step_row
from stowright.model.making import HoldPoint, Step
from stowright.units import format_length


def step_with(hold, checks=()):
    return Step(
        number=1,
        stage="drawer",
        title="wine: read between the runners, then cut its box",
        text=(),
        parts=(),
        fixings=(),
        tools=(),
        checks=checks,
        hold_point=hold,
        cautions=(),
        figure="",
    )


HOLD = HoldPoint(what="between runners [mm]", least=508.0, most=533.4, otherwise="Stop.")


def test_a_hold_point_names_its_unit():
    hold = step_row(step_with(HOLD), "mm")["hold"]
    assert hold == "between runners. Must read 508 to 533.4 mm. Stop."


def test_a_hold_point_of_an_inch_job_is_in_inches():
    # 1 in = 25.4 mm exactly (international yard and pound agreement, 1959): 20 in and 21 in.
    hold = step_row(step_with(HOLD), "in")["hold"]
    assert hold == "between runners. Must read 20.000 to 21.000 in (508 to 533.4 mm). Stop."


def test_a_hold_point_that_is_even_to_both_sides_tells_the_difference_alone():
    hold = HoldPoint(what="each reading", least=-2.0, most=2.0, otherwise="Stop.")
    assert step_row(step_with(hold), "mm")["hold"] == "each reading. Must agree within 2 mm. Stop."
    # 2 mm / 25.4 = 0.0787 in
    assert "within 0.079 in (2 mm)" in step_row(step_with(hold), "in")["hold"]


def test_a_hold_point_without_a_range_prints_none():
    hold = HoldPoint(what="mean thickness", least=None, most=None, otherwise="Stop.")
    assert step_row(step_with(hold), "in")["hold"] == "mean thickness. Stop."


def test_a_check_ends_without_the_stop_that_the_page_sets():
    row = step_row(step_with(None, checks=("made with 11.7 mm.", "line 48 mm")), "mm")
    assert row["checks"] == ["made with 11.7 mm", "line 48 mm"]


def test_steps_point_to_runner_sheets_layouts_details_and_plans_of_places(pickup):
    figures = {
        "survey": "Where each reading is taken",
        "layout-1": "Sheet layout 1",
        "view-1": "Elevation, rear",
        "view-2": "Plan, rear",
        "placing-floor": "Places on the load floor",
        "placing-deck": "Places of deck, bearers and wings",
        "detail-1": "Runner of a drawer",
        "detail-2": "Anchor, bolt 1: bolt",
        "detail-3": "Joint of side and floor",
        "detail-4": "Bolt between modules",
        "detail-5": "Where the turn-catch sits",
        **{f"runner-{n}": f"Runners {n}" for n in range(1, 9)},
    }
    see = step_references(pickup, figures)
    by_title = {step.title: see[step.number] for step in pickup.making.steps}
    assert by_title["Read the bay again"] == ["survey"]
    assert by_title["Cut release A"] == ["layout-1"]
    assert by_title["Anchor the unit"] == ["placing-floor", "detail-2"]
    assert by_title["Lay the packers and stand the modules on them"] == ["placing-floor"]
    assert by_title["drawers: join the modules"] == ["detail-4"]
    assert by_title["drawers, module 1: fit the back"] == ["detail-3"]
    assert by_title["Cut the deck to the modules in place and fit it"] == ["placing-deck"]
    hung = [t for t in by_title if "members" in t]
    assert hung
    assert all(by_title[t][0].startswith("runner-") for t in hung)
    assert "detail-1" in by_title["tools: fix the cabinet members of its runners"]
    caught = [t for t, names in by_title.items() if "detail-5" in names]
    assert caught == ["Template, cut and fit the right wing"]


def test_a_step_names_all_that_its_fixings_go_into(pickup):
    design = pickup.design
    marks = {piece.id: piece.mark for piece in design.placed}
    joins = {fixing.id: fixing.joins for fixing in design.fixings}
    for step in pickup.making.steps:
        new = {part.mark for part in step.parts if part.first}
        into = {marks[j] for row in step.fixings for i in row.ids for j in joins[i] if j in marks}
        again = [mark for mark, _ in step_details(design, step)["again"]]
        assert len(again) == len(set(again))
        assert into - new <= set(again)
        assert {part.mark for part in step.parts if not part.first} <= set(again)


def test_the_step_of_the_anchors_tells_each_in_a_row_of_its_own(pickup):
    design = pickup.design
    step = next(step for step in pickup.making.steps if step.kind == "install")
    told = step_details(design, step)
    assert told["checks"] == []
    assert [row[0] for row in told["anchors"]] == [anchor.id for anchor in design.anchors]
    for row, anchor in zip(told["anchors"], design.anchors, strict=True):
        assert row[1:3] == [format_length(anchor.x), format_length(anchor.y)]
        assert row[4] == anchor.bolt
    others = [step for step in pickup.making.steps if step.kind != "install"]
    assert all(step_details(design, step)["anchors"] == [] for step in others)
