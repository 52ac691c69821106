"""The record of a build, copy by copy: which copies are cut, which are spoiled, which are meant."""

import pytest
from refit_jobs import done, job

from stowright.explore.build_record import (
    Known,
    copies_of,
    pieces_cut,
    still_to_cut,
    unclear_copies,
)

LOW, HIGH = (1350.0, 363.0, 14.6), (1350.0, 367.0, 14.6)
TOGETHER = Known(copies={"A8": 2}, sizes={"A8": HIGH})
APART = Known(copies={"A8": 1, "A8b": 1}, sizes={"A8": LOW, "A8b": HIGH})
#: Both copies were cut under one mark before they were told apart.
COVERED = Known(copies=APART.copies, sizes=APART.sizes, covers={"A8": (1, 0)})


def cut(*marks):
    rows = ", ".join(f'{{mark = "{mark}"}}' for mark in marks)
    return f'\n[[done]]\nstage = "cut"\nparts = [{rows}]\n'


def spoiled(mark, size=None):
    told = "" if size is None else f"size = {list(size)}\n"
    return f'\n[[spoiled]]\nmark = "{mark}"\n{told}'


def sizes(text, known):
    return {
        mark: [None if entry is None else entry.size for entry in entries]
        for mark, entries in copies_of(job(text), known).items()
    }


def left(text, known):
    pieces = [(mark, mark) for mark, copies in known.copies.items() for _ in range(copies)]
    return still_to_cut(job(text), pieces, known.covers)


def test_a_mark_speaks_of_every_copy_that_bears_it():
    assert sizes(cut("A8"), TOGETHER) == {"A8": [HIGH, HIGH]}
    assert sizes(cut("A8"), APART) == {"A8": [LOW], "A8b": [None]}


def test_what_was_written_down_before_copies_were_told_apart_speaks_of_all_of_them():
    assert left(cut("A8"), COVERED) == {"A8": 0, "A8b": 0}
    assert pieces_cut(job(cut("A8")), COVERED) == {"A8": 2}


@pytest.mark.parametrize(("mark", "other"), [("A8", "A8b"), ("A8b", "A8")])
@pytest.mark.parametrize("known", [APART, COVERED])
def test_a_spoiled_copy_is_the_one_that_bears_the_mark(mark, other, known):
    done_ = cut("A8", "A8b") if known is APART else cut("A8")
    assert left(done_ + spoiled(mark), known) == {mark: 1, other: 0}
    again = done_ + spoiled(mark) + cut(mark)
    assert left(again, known) == {mark: 0, other: 0}
    assert sum(pieces_cut(job(again), known).values()) == 3


def test_what_was_spoiled_before_copies_were_told_apart_is_the_copy_that_it_was_then():
    """Of two copies the later one counts as spoiled; the refit then calls that one otherwise."""
    text = cut("A8") + spoiled("A8")
    assert left(text, TOGETHER) == {"A8": 1}
    assert sizes(text, TOGETHER) == {"A8": [HIGH, None]}
    since = Known(copies=APART.copies, sizes=APART.sizes, covers={"A8": (1, 1)})
    assert left(text, since) == {"A8": 0, "A8b": 1}
    assert left(text + cut("A8b"), since) == {"A8": 0, "A8b": 0}
    assert left(text + spoiled("A8"), since) == {"A8": 1, "A8b": 1}


def test_what_was_spoiled_before_copies_were_told_apart_came_off_its_sheet_all_the_same():
    """Two came off; the one that bears the mark now is spoiled and cut again: that is a third."""
    since = Known(copies=APART.copies, sizes=APART.sizes, covers={"A8": (1, 1)})
    text = cut("A8") + spoiled("A8")
    assert pieces_cut(job(text), since) == pieces_cut(job(text), TOGETHER) == {"A8": 2}
    assert pieces_cut(job(text + spoiled("A8") + cut("A8")), since) == {"A8": 3}
    both = Known(copies=APART.copies, sizes=APART.sizes, covers={"A8": (1, 2)})
    assert pieces_cut(job(text + spoiled("A8")), both) == {"A8": 2}


def test_one_of_several_copies_that_was_cut_new_leaves_the_others_as_they_are():
    found = sizes(cut("A8") + cut("A8"), COVERED)
    assert found == {"A8": [LOW], "A8b": [HIGH]}


def test_a_copy_named_alone_without_a_plan_is_one_copy():
    assert sizes(done(("A8b", HIGH)), TOGETHER) == {"A8": [None, HIGH]}
    assert sizes(done(("A8b", HIGH), ("A8", LOW)), TOGETHER) == {"A8": [LOW, HIGH]}


def test_what_no_longer_serves_is_cut_once_more_beside_what_is_spoiled_of_the_same_mark():
    text, pieces = cut("A8") + spoiled("A8"), [("A8", "A8"), ("A8b", "A8"), ("A9", "A9")]
    assert still_to_cut(job(text), pieces, {}) == {"A8": 0, "A8b": 1, "A9": 1}
    assert still_to_cut(job(text), pieces, {}, anew={0}) == {"A8": 1, "A8b": 1, "A9": 1}


def test_of_two_cut_copies_the_one_that_no_longer_serves_is_cut_once_more_alone():
    text, pieces = cut("A8"), [("A8", "A8"), ("A8b", "A8")]
    assert still_to_cut(job(text), pieces, {}) == {"A8": 0, "A8b": 0}
    assert still_to_cut(job(text), pieces, {}, anew={1}) == {"A8": 0, "A8b": 1}


def test_a_spoiled_mark_whose_copies_were_cut_to_two_sizes_is_unclear_until_a_size_tells():
    two = done(("A8", HIGH), ("A8", LOW))
    (found,) = unclear_copies(job(two + spoiled("A8")), TOGETHER)
    assert (found.place, found.sizes) == (0, (HIGH, LOW))
    assert list(unclear_copies(job(two + spoiled("A8", LOW)), TOGETHER)) == []
    assert sizes(two + spoiled("A8", HIGH), TOGETHER) == {"A8": [None, LOW]}
    assert sizes(two + spoiled("A8", LOW), TOGETHER) == {"A8": [HIGH, None]}
    cut_again = two + spoiled("A8", HIGH) + done(("A8", (1350.0, 366.0, 14.6)))
    assert sizes(cut_again, TOGETHER) == {"A8": [(1350.0, 366.0, 14.6), LOW]}


def test_all_copies_spoiled_are_never_unclear_and_a_size_that_none_has_is():
    two = done(("A8", HIGH), ("A8", LOW))
    assert list(unclear_copies(job(two + spoiled("A8") * 2), TOGETHER)) == []
    assert list(unclear_copies(job(two + spoiled("A8", (1350.0, 360.0, 14.6))), TOGETHER))
