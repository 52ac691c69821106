"""Guesses from what was made near by, in invented worlds where the right answer is known."""

import numpy as np
from small_bays import small_judge

from stowright.explore.arrangement import everything
from stowright.explore.dice import Dice
from stowright.explore.guess import Guess
from stowright.explore.nearby import MOST, Nearby

SPACE = small_judge().space
ALL = list(everything(SPACE))
DEPTH, HEIGHT = SPACE.place("depth"), SPACE.place("height")


def together(choice):
    """Depth times height, and mass: shares alone cannot tell a product."""
    deep = SPACE.questions[DEPTH].answers[choice[DEPTH]] or 900.0
    return [deep * SPACE.questions[HEIGHT].answers[choice[HEIGHT]] / 1.0e4, float(sum(choice))]


TRUTH = np.array([together(choice) for choice in ALL])


def off(guess):
    """How far guesses are from the truth at most, as a share of what there is."""
    return (np.abs(guess.of(ALL) - TRUTH).max(axis=0) / np.ptp(TRUTH, axis=0)).max()


def test_answers_that_count_together_are_guessed_better_than_by_shares():
    known = Dice(3).shuffled(ALL)[: len(ALL) // 3]
    values = np.array([together(choice) for choice in known])
    assert off(Nearby(SPACE, known, values)) < 0.5 * off(Guess(SPACE, known, values))


def test_what_was_made_comes_back():
    known = Dice(4).shuffled(ALL)[:60]
    values = np.array([together(choice) for choice in known])
    back = Nearby(SPACE, known, values).of(known)
    # a thousandth of what shares leave over is taken as unexplained, and shares leave a tenth
    assert (np.abs(back - values) / np.ptp(values, axis=0)).max() < 0.002


def test_nothing_to_tell_apart_is_guessed_as_the_same():
    known = ALL[:7]
    guess = Nearby(SPACE, known, np.full((7, 1), 42.0))
    assert np.allclose(guess.of(ALL), 42.0)
    assert np.allclose(Nearby(SPACE, ALL[:1], np.array([[3.0]])).of(ALL), 3.0)


def test_of_very_many_those_near_what_matters_count_as_near():
    """The same arrangements over and over elsewhere push none of the near ones out."""
    about = ALL[-1]
    apart = [sum(a != b for a, b in zip(choice, about, strict=True)) for choice in ALL]
    far = [choice for choice, many in zip(ALL, apart, strict=True) if many >= 3]
    near = [choice for choice, many in zip(ALL, apart, strict=True) if many < 3]
    known = [*far * (1 + MOST // len(far)), *near]
    values = np.array([together(choice) for choice in known])
    guess = Nearby(SPACE, known, values, about=[about])
    truth = np.array([together(choice) for choice in near])
    assert len(guess.known) == MOST
    assert (np.abs(guess.of(near) - truth) / np.ptp(TRUTH, axis=0)).max() < 0.01


def test_of_very_many_the_latest_count_as_near_where_nothing_matters_more():
    known = [*ALL[:1] * MOST, *ALL]
    values = np.array([together(choice) for choice in known])
    guess = Nearby(SPACE, known, values)
    assert (np.abs(guess.of(ALL) - TRUTH) / np.ptp(TRUTH, axis=0)).max() < 0.01
