"""Bodies over the wheel arches: how high they start, what carries them, what they would give.

The numbers are worked by hand from the sentences of the geometry: 15 above the arch tops, 10 clear
of their sheet, nothing resting on an arch.
"""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_texts import CATALOGUE, PLAIN, TUB, check, job, made, placed, span, sum_of

from stowright.design.build import design
from stowright.errors import DesignError
from stowright.jobfile import NOT_YET_USED

OVER = PLAIN.replace('name = "unit"', 'name = "unit"\nover_arches = "yes"')
OFFER = PLAIN.replace('name = "unit"', 'name = "unit"\nover_arches = "offer"')
LOWER = """
[[block]]
name = "low"
place = {z = [0, 240]}
columns = [ {stack = [ {fill = "drawer"} ]} ]
"""


def clear_of(unit, arches, *, above, beside):
    """Assert that no piece comes near an arch, whose inner face is ``reach`` in from the wall."""
    for piece in unit.placed:
        (x0, x1), (y0, y1), (z0, _) = (span(piece, axis) for axis in "xyz")
        for side, start, end, height, inner in arches:
            out = y1 if side == "left" else -y0
            if x0 < end and x1 > start and z0 < height + above - 1e-6:
                assert out <= inner - beside + 1e-6, piece.id


# half of 1392 less the reach
ARCHES = [("left", 402, 1105, 228, 555), ("right", 404, 1105, 229, 557)]


def test_a_body_over_the_arches_starts_above_the_highest_and_takes_the_full_width():
    unit = made(TUB, OVER)
    body = unit.blocks[0].box
    # 229 read, 2 of reading error, 15 above; 45 below the rail at 486
    assert (body.z.low, body.z.high) == (246, 441)
    rise = sum_of(unit, "unit: underside above the floor, over the arches")
    assert [(line.what, line.value) for line in rise.lines] == [
        ("right arch: bay.arches[2].height", 229),
        ("reading error", 2),
        ("kept above the arch", 15),
    ]
    assert ("underside above the floor, over the arches", -246) in [
        (line.what, line.value) for line in sum_of(unit, "unit: carcass height").lines
    ]
    between = made(TUB, PLAIN).blocks[0].box
    assert body.y.size > between.y.size + 240  # its drawers still pass the doorway of 1328
    wide, open_wide = (made(TUB, b.replace("drawer", "open")).blocks[0].box for b in (PLAIN, OVER))
    assert open_wide.y.size > wide.y.size + 270  # the reaches, 141 + 139, less 10 of rounding
    floor = next(limit for limit in unit.blocks[0].usable.limits if limit.side == "floor")
    assert floor.at + sum(line.value for line in floor.allowances) == body.z.low
    check(unit)
    clear_of(unit, ARCHES, above=15, beside=10)


def test_bearers_carry_it_from_the_load_floor_and_are_screwed_to_it():
    unit = made(TUB, OVER)
    bearers = placed(unit, "floor-bearer")
    assert bearers
    assert not placed(unit, "packer")
    for bearer in bearers:
        assert span(bearer, "z") == (0, 246)
    xs = sorted(span(bearer, "x")[0] for bearer in bearers)
    assert max(b - a for a, b in pairwise(xs)) <= 450
    held = {name for joint in unit.joints for name in joint.parts if joint.count}
    assert {bearer.id for bearer in bearers} <= held


def test_an_offer_designs_the_plain_body_and_tells_what_the_other_gives():
    unit, plain = made(TUB, OFFER), made(TUB, PLAIN)
    assert unit.parts == plain.parts
    over = made(TUB, OVER)
    (told,) = [line for line in unit.warnings if "over the arches" in line]
    wider = over.blocks[0].box.y.size - plain.blocks[0].box.y.size
    assert f"{wider:.1f} mm wider" in told
    lower = plain.blocks[0].box.z.size - over.blocks[0].box.z.size
    assert f"{lower:.1f} mm less high" in told
    litres = sum(o.usable.litres for o in over.blocks[0].openings)
    litres -= sum(o.usable.litres for o in plain.blocks[0].openings)
    assert f"{litres:+.0f} litres" in told
    floor = next(limit for limit in unit.blocks[0].usable.limits if limit.side == "floor")
    assert "mm wider" in floor.next


def test_an_offer_that_does_not_go_says_why():
    low = TUB.replace("rail = 486", "rail = 300")
    unit = made(low, OFFER)
    assert any("over the arches it does not go" in line for line in unit.warnings)


def test_a_body_over_the_arches_stands_on_a_lower_one_between_them():
    unit = made(TUB.replace("rail = 486", "rail = 620"), OVER, LOWER)
    upper, lower = (next(b.box for b in unit.blocks if b.name == n) for n in ("unit", "low"))
    assert lower.z.high <= 240
    assert upper.z.low >= 246
    assert upper.y.size > lower.y.size
    check(unit)
    clear_of(unit, ARCHES, above=10, beside=5)


def test_where_no_arch_is_under_it_a_body_stands_on_the_floor():
    bare = TUB[: TUB.index("arches")] + TUB[TUB.index("[[bay.opening]]") :]
    assert made(bare, OVER).blocks[0].box == made(bare, PLAIN).blocks[0].box
    behind = OVER.replace('"yes"', '"yes"\nplace = {x = [0, 380]}').replace("drawer", "open")
    assert made(TUB, behind).blocks[0].box.z.low < 20


def test_a_range_that_starts_higher_is_kept():
    higher = OVER.replace('"yes"', '"yes"\nplace = {z = [270, 440]}')
    assert made(TUB, higher).blocks[0].box.z.low == 270


def test_the_key_is_used_now():
    assert "block.over_arches" not in NOT_YET_USED
    assert not [line for line in job(TUB, OVER).warnings if "over_arches" in line]


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    heights=st.tuples(st.integers(180, 270), st.integers(180, 270)),
    reaches=st.tuples(st.integers(80, 200), st.integers(80, 200)),
    start=st.integers(0, 500),
    rail=st.integers(450, 700),
    face=st.sampled_from(["tail", "left", "right"]),
    lower=st.booleans(),
)
def test_nothing_comes_near_an_arch_on_generated_bays(heights, reaches, start, rail, face, lower):
    arches = [
        (side, start, start + 700, high, 696 - reach)
        for side, high, reach in zip(("left", "right"), heights, reaches, strict=True)
    ]
    listed = ", ".join(
        f'{{side = "{side}", start = {start}, end = {start + 700}, height = {high}, '
        f"reach = {696 - inner}}}"
        for side, _, _, high, inner in arches
    )
    bay = TUB.replace("rail = 486", f"rail = {rail}")
    bay = bay[: bay.index("arches")] + f"arches = [ {listed} ]\n" + bay[bay.index("[[bay.op") :]
    block = OVER.replace('"yes"', f'"yes"\nface = "{face}"').replace("drawer", "open")
    try:
        unit = design(job(bay, block, *((LOWER.replace("drawer", "open"),) * lower)), CATALOGUE)
    except DesignError:
        return
    check(unit)
    clear_of(unit, arches, above=10, beside=5)
    upper = next(b.box for b in unit.blocks if b.name == "unit")
    assert upper.z.low >= max(heights) + 2 + 15
    carried = placed(unit, "floor-bearer")
    assert carried or lower
    for bearer in carried:
        assert span(bearer, "z")[1] == pytest.approx(upper.z.low)
