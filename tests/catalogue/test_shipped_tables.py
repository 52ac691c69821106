"""What every shipped row must be: named once, sourced, positive, and whole."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise

import pytest

from stowright.catalogue import all_stock_sizes, known_names, load_catalogue, shipped_text
from stowright.catalogue.rows import read_rows
from stowright.catalogue.tables import STANDINGS
from stowright.model.catalogue import Catalogue

SHELF = load_catalogue()
FILES = (
    "materials",
    "stock_sizes",
    "runners",
    "screws",
    "bolts",
    "saws",
    "coatings",
    "hardware",
    "things",
)
TABLES = tuple(Catalogue.__slots__)
#: Numbers that may be zero, each for a reason written in the model.
MAY_BE_ZERO = {
    "plies",
    "thread",
    "head_height",
    "pilot_face",
    "pilot_edge",
    "set_back",
    "droop",
    "hole",
    "coats",
    "mass",
    "trim",
}


def test_no_name_is_shipped_twice():
    rows = [row for name in FILES for row in read_rows(shipped_text(name))[0]]
    counted = Counter((row.table.key, row.name) for row in rows)
    assert [name for name, count in counted.items() if count > 1] == []
    assert "" not in {row.name for row in rows}


def test_every_table_has_rows():
    assert {table: len(names) > 0 for table, names in known_names(SHELF).items()} == dict.fromkeys(
        Catalogue.__slots__, True
    )


@pytest.mark.parametrize("table", TABLES)
def test_every_row_has_a_source_and_a_standing(table):
    for row in getattr(SHELF, table):
        for origin in (row.origin, *(origin for _, origin in row.origins)):
            assert len(origin.source) > 10, row.name
            assert origin.standing in STANDINGS, row.name


@pytest.mark.parametrize("table", TABLES)
def test_a_row_is_never_called_stronger_than_its_weakest_value(table):
    for row in getattr(SHELF, table):
        own = STANDINGS.index(row.origin.standing)
        assert all(STANDINGS.index(origin.standing) <= own for _, origin in row.origins), row.name
        assert all(field in type(row).__slots__ for field, _ in row.origins), row.name


@pytest.mark.parametrize("table", TABLES)
def test_numbers_are_above_zero(table):
    for row in getattr(SHELF, table):
        for field in type(row).__slots__:
            value = getattr(row, field)
            if isinstance(value, int | float) and not isinstance(value, bool):
                assert value > 0.0 or (field in MAY_BE_ZERO and value == 0.0), (row.name, field)


@pytest.mark.parametrize("table", TABLES)
def test_names_are_plain_words_without_marks(table):
    # A thread or a stainless grade starts with a capital; nothing else does.
    for row in getattr(SHELF, table):
        plain = re.sub(r"\bM\d+|\bA2\b", "", row.name)
        assert plain == plain.lower()
        assert row.name.isascii()


@pytest.mark.parametrize("name", FILES)
def test_no_trade_marks_anywhere_in_the_files(name):
    assert not re.search(r"[®™©]|\bInc\b|\bGmbH\b|\bLtd\b|https?:|www\.", shipped_text(name))


def test_no_prices_are_shipped():
    priced = [
        *SHELF.screws,
        *SHELF.bolts,
        *SHELF.nuts,
        *SHELF.washers,
        *SHELF.hardware,
        *all_stock_sizes(),
        *(size for runner in SHELF.runners for size in runner.sizes),
    ]
    assert {row.price for row in priced} == {None}


def test_the_names_that_every_release_keeps():
    wanted = {
        f"{family}-{size}"
        for family in ("ply", "birch", "softwood", "hardwood", "poplar")
        for size in (6, 9, 12, 15, 18, 21)
    }
    names = known_names(SHELF)["materials"]
    assert wanted <= set(names)
    assert not any("." in name for name in names)
    assert {SHELF.material(f"{f}-6").nominal for f in ("ply", "birch", "poplar")} == {6.5}


def test_the_defaults_of_a_job_are_on_the_shelf():
    assert SHELF.material("ply-15").family == "ply"
    assert SHELF.saw("track").method == "hand"
    assert SHELF.finish("clear").coats > 0


@pytest.mark.parametrize("family", ["ply", "birch", "softwood", "hardwood", "poplar"])
def test_thicker_sheets_of_a_family_are_thicker_and_nearer_to_equal_both_ways(family):
    rows = sorted((m for m in SHELF.materials if m.family == family), key=lambda m: m.nominal)
    for thin, thick in pairwise(rows):
        assert thin.thickness < thick.thickness
        assert thin.e_across / thin.e_along <= thick.e_across / thick.e_along


def test_plywood_has_an_odd_number_of_plies_or_an_unknown_one():
    for row in SHELF.materials:
        assert row.plies == 0 or row.plies % 2 == 1, row.name
        assert (row.plies == 0) == (row.family == "ply"), row.name


def test_lay_ups_add_up_and_mirror():
    known = [row for row in SHELF.materials if row.layup]
    assert {row.family for row in known} == {"birch"}
    for row in known:
        assert len(row.layup) == row.plies
        assert sum(row.layup) == pytest.approx(row.thickness, abs=1e-9)
        assert row.layup == row.layup[::-1]


def test_unknown_plywood_is_never_taken_for_better_than_a_named_family():
    named = [row for row in SHELF.materials if row.family != "ply"]
    for row in SHELF.materials:
        if row.family != "ply":
            continue
        assert row.origin.standing == "assumed"
        same = [other for other in named if other.nominal == row.nominal]
        for field in ("f_along", "f_across", "f_rolling", "f_panel_shear", "f_compression"):
            assert getattr(row, field) <= min(getattr(other, field) for other in same), field


def test_only_the_usual_sizes_are_offered_and_every_family_has_one():
    offered = {(size.material, size.length, size.width) for size in SHELF.stock_sizes}
    families = {row.family for row in SHELF.materials}
    assert offered == {(family, 2440.0, 1220.0) for family in families} | {
        ("birch", 1525.0, 1525.0)
    }
    shipped = {(size.length, size.width) for size in all_stock_sizes()}
    assert shipped == {
        (2440.0, 1220.0),
        (2400.0, 1200.0),
        (2500.0, 1250.0),
        (1525.0, 1525.0),
        (3050.0, 1525.0),
    }


@pytest.mark.parametrize("runner", SHELF.runners, ids=lambda runner: runner.name)
def test_runner_families_are_whole(runner):
    lengths = [size.length for size in runner.sizes]
    ratings = [size.rating_kg for size in runner.sizes]
    assert lengths == sorted(set(lengths))
    assert {b - a for a, b in pairwise(lengths)} == {50.0}
    assert ratings == sorted(ratings, reverse=True)
    assert SHELF.screw(runner.screw).kind == "pan"
    # The head of the fixing wanted lies within the thickness of the runner.
    assert SHELF.screw(runner.screw).head_height < runner.thickness / 2.0
    assert (runner.lever is not None) == (runner.lock_in or runner.lock_out)
    assert (runner.lock_n is not None) == (runner.lock_in or runner.lock_out)
    assert runner.overlap == min(size.overlap for size in runner.sizes)
    for size in runner.sizes:
        assert size.overlap < size.length
        assert size.travel <= size.length


def test_runner_families_asked_for():
    assert {r.name: (r.section, r.thickness) for r in SHELF.runners} == {
        "slim-45": (45.0, 12.7),
        "medium-53": (53.0, 12.7),
        "heavy-76": (76.0, 19.1),
        "heavy-76-lock": (76.0, 19.1),
        "heavy-80": (80.0, 19.1),
        "heavy-80-lock": (80.0, 19.1),
    }


@pytest.mark.parametrize("thread", ["M5", "M6", "M8", "M10"])
def test_each_thread_can_be_bolted_up(thread):
    bolts = [b for b in SHELF.bolts if b.thread == thread]
    assert {b.head for b in bolts} >= {"hex", "countersunk"}
    assert {n.kind for n in SHELF.nuts if n.thread == thread} == {
        "insert-lock",
        "tee",
        "rivet",
        "plain",
    }
    for washer in (w for w in SHELF.washers if w.thread == thread):
        # Passes the bolt, and is wider than the hole that the bolt goes through.
        assert bolts[0].diameter < washer.hole <= bolts[0].clearance_hole
        assert washer.outside > bolts[0].clearance_hole


def test_names_of_screws_and_bolts_say_their_sizes():
    for bolt in SHELF.bolts:
        assert bolt.name.startswith(f"{bolt.thread}x{bolt.length:g}-{bolt.grade}")
        assert bolt.thread == f"M{bolt.diameter:g}"
    for screw in SHELF.screws:
        assert screw.name.endswith((f"-{screw.length:g}", f"x{screw.length:g}"))


def test_masses_of_bolts_are_those_of_their_solids():
    # Between a plain core at the root of the thread without a head and a full shank with a full
    # cylinder for a head, in steel of 7850 kg/m3.
    for bolt in SHELF.bolts:
        root = bolt.diameter - 1.3 * bolt.pitch
        core = 0.7854 * root**2 * (bolt.length - bolt.head_height) * 7.85e-6
        full = 0.7854 * bolt.diameter**2 * bolt.length * 7.85e-6
        head = 0.7854 * (1.16 * bolt.across_flats) ** 2 * bolt.head_height * 7.85e-6
        assert core < bolt.mass < full + head, bolt.name


def test_masses_of_washers_are_those_of_their_solids():
    for washer in SHELF.washers:
        area = washer.outside**2 * (1.0 if washer.shape == "square" else 0.785398)
        area -= 0.785398 * washer.hole**2
        # Written to a tenth of a gram.
        assert washer.mass == pytest.approx(area * washer.thickness * 7.85e-6, abs=6e-5)


def test_loading_again_gives_the_same_value():
    assert load_catalogue() is load_catalogue()
    assert load_catalogue("") is load_catalogue()
