"""Names in words: what a person would say, and no two the same."""

from small_bays import ALL

from stowright.app.loading import load_catalogue, load_job
from stowright.explore.arranged import arranged
from stowright.explore.arrangement import by_chance, normal, space_of, usual
from stowright.explore.dice import Dice
from stowright.explore.measures import CRITERIA, Measures
from stowright.explore.wording import best_at, gives_up, named, shown

SHELF = load_catalogue()


def measures(litres, mass):
    return Measures(
        litres=litres,
        mass_kg=mass,
        sheets=3.0,
        cost=None,
        axle_margin_kg=None,
        height_mm=400.0,
        sleeping_mm=None,
        worst_use=0.8,
        cuts=40.0,
    )


def test_names_say_what_it_is():
    space = space_of(load_job(ALL["tub"]), SHELF)
    first = normal(space, tuple(0 for _ in space.questions))
    two = next(c for c in usual(space) if c[1] == 1 and c[3] == 0 and c[12] == 0)
    names = named([arranged(space, first), arranged(space, two)], [1300.0, 1300.0])
    assert names == ("one long drawer, deck", "two long drawers, deck")


def test_no_two_names_are_the_same():
    for text in ALL.values():
        space, dice = space_of(load_job(text), SHELF), Dice(4)
        jobs = [arranged(space, by_chance(space, dice)) for _ in range(40)]
        names = named(jobs + jobs[:2], [800.0] * 42)
        assert len(set(names)) == 42


def test_what_is_best_and_what_is_given_up():
    rows = [measures(500.0, 90.0), measures(400.0, 60.0)]
    known = [c for c in CRITERIA if c.name in {"litres", "mass_kg"}]
    assert best_at(rows[0], rows, known) == ("the roomiest",)
    assert gives_up(rows[0], rows, known) == ("30 kg heavier",)
    assert gives_up(rows[1], rows, known) == ("100 l less room",)


def test_what_many_are_best_at_sets_none_apart():
    light = [measures(500.0 - 10.0 * k, 60.0) for k in range(5)]
    rows = [*light, measures(600.0, 90.0)]
    known = [c for c in CRITERIA if c.name in {"litres", "mass_kg"}]
    assert best_at(rows[-1], rows, known) == ("the roomiest",)
    assert best_at(light[0], rows, known) == ()


def test_lengths_are_shown_in_the_unit_of_the_job():
    height = next(c for c in CRITERIA if c.name == "height_mm")
    assert shown(height, 400.0) == "400 mm"
    assert "in" in shown(height, 400.0, "in")
    assert shown(height, None) == "–"
