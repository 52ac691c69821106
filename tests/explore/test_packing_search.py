"""Things packed into rooms: what every packing has to keep, and cases known to fit."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.explore.packing_search import STAGES, Bin, Item, Packing, pack, patience, pleasing

ROOM = Bin(across=500.0, depth=900.0, height=350.0, most_kg=1000.0)


def sides_overlap(one, two):
    return all(
        min(a + da, b + db) - max(a, b) > 1e-6
        for a, da, b, db in zip(one.at, one.size, two.at, two.size, strict=True)
    )


def held_share(one, others):
    """Share of a base that lies on the tops of other things at its own level."""
    if one.at[2] < 1e-6:
        return 1.0
    held = 0.0
    for other in others:
        if abs(other.at[2] + other.size[2] - one.at[2]) < 1e-6:
            x = min(one.at[0] + one.size[0], other.at[0] + other.size[0]) - max(
                one.at[0], other.at[0]
            )
            y = min(one.at[1] + one.size[1], other.at[1] + other.size[1]) - max(
                one.at[1], other.at[1]
            )
            held += max(0.0, x) * max(0.0, y)
    return held / (one.size[0] * one.size[1])


def corners_held(one, others):
    """How many corners of a base stand on the floor or on a top at its own level."""
    if one.at[2] < 1e-6:
        return 4
    tops = [o for o in others if abs(o.at[2] + o.size[2] - one.at[2]) < 1e-6]
    return sum(
        any(
            all(
                o.at[k] - 1e-6 <= one.at[k] + end[k] * one.size[k] <= o.at[k] + o.size[k] + 1e-6
                for k in (0, 1)
            )
            for o in tops
        )
        for end in itertools.product((0, 1), repeat=2)
    )


def check(bins: tuple[Bin, ...], items: tuple[Item, ...], found: Packing) -> None:
    assert sorted([p.item for p in found.placed] + list(found.left_out)) == list(range(len(items)))
    for place in found.placed:
        room, item = bins[place.room], items[place.item]
        inside = (room.across, room.depth, room.height)
        assert all(
            a > -1e-6 and a + d < s + 1e-6
            for a, d, s in zip(place.at, place.size, inside, strict=True)
        )
        assert sorted(place.size) == pytest.approx(sorted(item.size), abs=0.1)  # whole tenths
        if item.upright:
            assert place.size[2] == pytest.approx(item.size[2], abs=0.1)
        if item.only_in is not None:
            assert place.room in item.only_in
    for room in range(len(bins)):
        mine = [p for p in found.placed if p.room == room]
        assert sum(items[p.item].mass_kg for p in mine) <= bins[room].most_kg + 1e-6
        for one, two in itertools.combinations(mine, 2):
            assert not sides_overlap(one, two)
            assert two.item not in items[one.item].apart_from
        for one in mine:
            others = [p for p in mine if p is not one]
            # thousandths, rounded down; with four corners held half of a base is enough
            assert one.stands >= 0.6
            assert held_share(one, others) >= (0.5 if one.stands == 1.0 else one.stands) - 1e-6
            if one.stands == 1.0:
                assert corners_held(one, others) == 4
            for other in others:
                on_it = abs(other.at[2] + other.size[2] - one.at[2]) < 1e-6 and sides_touch(
                    one, other
                )
                if on_it:
                    assert items[other.item].bears
                    assert items[other.item].mass_kg >= items[one.item].mass_kg


def sides_touch(one, two):
    return all(
        min(one.at[k] + one.size[k], two.at[k] + two.size[k]) - max(one.at[k], two.at[k]) > 1e-6
        for k in (0, 1)
    )


SIZES = st.floats(min_value=40.0, max_value=330.0).map(lambda v: round(v, 1))
ITEMS = st.builds(
    lambda a, b, c, m, u, r: Item(size=(a, b, c), mass_kg=m, upright=u, bears=r),
    SIZES,
    SIZES,
    SIZES,
    st.floats(min_value=0.0, max_value=30.0).map(lambda v: round(v, 2)),
    st.booleans(),
    st.booleans(),
)


@settings(max_examples=40)
@given(st.lists(ITEMS, min_size=1, max_size=14), st.integers(0, 5))
def test_any_packing_keeps_every_rule(items, seed):
    bins = (ROOM, Bin(across=300.0, depth=400.0, height=200.0, most_kg=25.0))
    check(bins, tuple(items), pack(bins, tuple(items), seed=seed, budget=60))


def test_the_same_things_give_the_same_places():
    chance = np.random.default_rng(5)
    items = tuple(Item(size=tuple(chance.integers(60, 300, 3).tolist())) for _ in range(14))
    first, second = (pack((ROOM,), items, seed=3, budget=120) for _ in range(2))
    assert first == second


def test_things_that_may_not_stand_together_do_not():
    items = (
        Item(size=(100, 100, 100), apart_from=(1,)),
        Item(size=(100, 100, 100)),
    )
    two = (ROOM, ROOM)
    places = pack(two, items, budget=20).placed
    assert {p.room for p in places} == {0, 1}
    assert len(pack((ROOM,), items, budget=20).left_out) == 1


def test_nothing_stands_on_what_bears_nothing():
    low = Bin(across=100.0, depth=100.0, height=300.0, most_kg=10.0)
    boxes = (Item(size=(100, 100, 100), bears=False), Item(size=(100, 100, 100), bears=False))
    assert len(pack((low,), boxes, budget=20).left_out) == 1
    assert not pack((low,), (boxes[0], Item(size=(100, 100, 100))), budget=20).left_out


def test_the_lighter_stands_on_the_heavier():
    low = Bin(across=100.0, depth=100.0, height=300.0, most_kg=100.0)
    items = tuple(Item(size=(100, 100, 100), mass_kg=m, upright=True) for m in (1.0, 9.0, 4.0))
    places = sorted(pack((low,), items, budget=20).placed, key=lambda p: p.at[2])
    assert [items[p.item].mass_kg for p in places] == [9.0, 4.0, 1.0]


def test_a_room_takes_no_more_than_it_may_carry():
    items = tuple(Item(size=(50, 50, 50), mass_kg=4.0) for _ in range(6))
    found = pack((Bin(across=500.0, depth=500.0, height=100.0, most_kg=13.0),), items, budget=20)
    assert len(found.placed) == 3


def test_what_is_pulled_to_the_face_lies_there():
    items = tuple(
        Item(size=(500, 100, 300), upright=True, pulls=(0.0, pull, 0.0))
        for pull in (-0.2, 0.4, 0.0)
    )
    found = pack((ROOM,), items, budget=200)
    by_depth = [p.item for p in sorted(found.placed, key=lambda p: p.at[1])]
    assert by_depth[0] == 1
    assert by_depth[-1] == 0


def test_what_belongs_together_shares_a_room():
    items = (
        Item(size=(200, 200, 200), wanted=(0.0, 0.3)),
        Item(size=(200, 200, 200), together_with=(0,), wanted=(0.1, 0.0)),
    )
    found = pack((ROOM, ROOM), items, budget=200)
    assert len({p.room for p in found.placed}) == 1


def test_a_stopped_search_has_the_first_orders():
    items = tuple(Item(size=(100, 100, 100)) for _ in range(4))
    found = pack((ROOM,), items, budget=500, should_stop=lambda: True)
    assert found.stopped
    assert not found.left_out


def cut_up(chance: np.random.Generator, room: tuple[int, int, int], pieces: int):
    """Cut a box edge to edge into pieces no thinner than 30."""
    found = [room]
    while len(found) < pieces:
        found.sort(key=lambda p: -p[0] * p[1] * p[2])
        piece = found.pop(int(chance.integers(0, len(found) // 2 + 1)))
        axes = [k for k in range(3) if piece[k] >= 60]
        if not axes:
            found.append(piece)
            break
        axis = int(chance.choice(axes))
        at = int(chance.integers(30, piece[axis] - 29))
        one, two = list(piece), list(piece)
        one[axis], two[axis] = at, piece[axis] - at
        found += [tuple(one), tuple(two)]
    return found


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("fill", [0.6, 0.7])
def test_pieces_of_a_box_cut_up_go_back_into_it(seed, fill):
    """A box cut into pieces and some taken out again is a packing known to fit."""
    chance = np.random.default_rng(seed)
    pieces = cut_up(chance, (500, 900, 350), 8 + 4 * seed)
    total = 500 * 900 * 350
    while True:
        volume = sum(a * b * c for a, b, c in pieces)
        spare = [i for i, p in enumerate(pieces) if volume - p[0] * p[1] * p[2] >= fill * total]
        if not spare:
            break
        del pieces[int(chance.choice(spare))]
    items = tuple(Item(size=tuple(map(float, p)), mass_kg=1.0) for p in pieces)
    found = pack((ROOM,), items, budget=3000)
    check((ROOM,), items, found)
    assert not found.left_out


#: Size and mass of pieces that a box of 500 x 900 x 350 was cut into edge to edge; taken out until
#: a fifth of it was empty, only what nothing stood on. Whatever stood on another weighs less, so
#: that the packing known from the cutting keeps every rule.
WEIGHED = (
    ((329, 864, 125), 6.4), ((329, 864, 75), 0.6), ((254, 624, 111), 1.0), ((171, 317, 117), 3.6),
    ((171, 301, 117), 2.4), ((500, 295, 39), 6.7), ((500, 272, 39), 6.5), ((171, 618, 50), 2.0),
    ((500, 224, 39), 8.7), ((75, 864, 44), 4.5), ((75, 864, 37), 5.7), ((168, 36, 350), 6.4),
    ((171, 72, 167), 7.4), ((75, 864, 30), 2.6), ((500, 73, 39), 11.5), ((38, 240, 111), 2.5),
    ((216, 240, 111), 5.7),
)  # fmt: skip


@pytest.mark.parametrize("seed", range(2))
def test_pieces_that_all_weigh_unlike_go_back_into_their_box(seed):
    items = tuple(
        Item(size=tuple(map(float, size)), mass_kg=mass, upright=True) for size, mass in WEIGHED
    )
    found = pack((ROOM,), items, seed=seed, budget=300, longer=12_000)
    check((ROOM,), items, found)
    assert not found.left_out


def test_patience_falls_with_the_number_of_things_between_its_ends():
    tries = [patience(n) for n in (1, 10, 30, 60, 200)]
    assert tries == sorted(tries, reverse=True)
    assert tries[0] == 40_000
    assert tries[-1] == 8000


def test_hundreds_of_things_are_tried_ever_less_often_but_are_tried():
    for count in (patience, pleasing):
        tries = [count(n) for n in (200, 300, 500, 1000, 100_000)]
        assert tries == sorted(tries, reverse=True)
        assert tries[3] < tries[0] / 50  # a try grows with the square of things at least
        assert tries[-1] == 1


def test_what_goes_into_no_room_does_not_keep_the_others_out():
    items = (
        Item(size=(900, 900, 900), apart_from=(2,)),
        Item(size=(100, 100, 100), together_with=(2,)),
        Item(size=(100, 100, 100), apart_from=(0,)),
        Item(size=(100, 100, 100), only_in=(1,)),
    )
    found = pack((ROOM,), items, budget=20)
    assert found.left_out == (0, 3)
    assert [p.item for p in found.placed] == [1, 2]


#: Ten pieces of a box cut edge to edge, three quarters of it, that the first orders do not place.
TIGHT = (
    (318, 386, 176),
    (202, 700, 136),
    (318, 223, 176),
    (318, 153, 214),
    (48, 900, 214),
    (154, 431, 136),
    (318, 747, 38),
    (54, 900, 136),
    (90, 431, 136),
    (134, 560, 214),
)
TIGHT_ITEMS = tuple(Item(size=tuple(map(float, p)), mass_kg=1.0) for p in TIGHT)


def test_a_tree_finds_what_the_first_orders_left_out():
    assert pack((ROOM,), TIGHT_ITEMS, budget=1, longer=0).left_out
    found = pack((ROOM,), TIGHT_ITEMS, budget=1, longer=8000)
    check((ROOM,), TIGHT_ITEMS, found)
    assert not found.left_out


def test_the_same_tree_gives_the_same_places():
    first, second = (pack((ROOM,), TIGHT_ITEMS, budget=1, longer=600, seed=4) for _ in range(2))
    assert first == second


def test_a_search_told_to_stop_stops_in_a_tree_too():
    asked = []

    def stop():
        asked.append(1)
        return len(asked) > 3

    found = pack((ROOM,), TIGHT_ITEMS, budget=1, longer=40_000, should_stop=stop)
    assert found.stopped
    assert found.tried < 400


def test_progress_tells_each_stage_and_only_grows_to_all():
    told = []
    items = (*TIGHT_ITEMS, *TIGHT_ITEMS[-1:] * 2)
    pack((ROOM,), items, budget=100, longer=4000, progress=lambda *row: told.append(row))
    stages, shares = zip(*told, strict=True)
    assert (stages[0], stages[-1]) == (STAGES[0], STAGES[-1])
    assert {STAGES[1], STAGES[3]} <= set(stages) <= set(STAGES)
    assert list(shares) == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)
