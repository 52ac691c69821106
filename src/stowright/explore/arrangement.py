"""What may be chosen about a unit in a bay: a list of questions, each with its possible answers.

An arrangement is one answer to each question, as indices. What makes no difference (how columns
share a width when there is one column) is set to the first answer, so that equal units are equal
arrangements. From the bay alone: the blocks and decks of the job are not looked at, but for the
heights and sheets that they name.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import prod

from stowright.explore.dice import Dice
from stowright.explore.from_bay import depths_of, heights_of, layouts_of, most_columns
from stowright.explore.sheet_choices import sheet_questions
from stowright.model.catalogue import Catalogue
from stowright.model.job import CarryItem, Job

__all__ = [
    "KIND",
    "Answer",
    "Choice",
    "Question",
    "Space",
    "by_chance",
    "chosen",
    "crossed",
    "everything",
    "neighbours",
    "normal",
    "shaken",
    "space_of",
    "usual",
]

#: What makes a unit another kind to whoever builds it; the rest is size, shares and sheets.
KIND = ("layout", "columns", "rows", "fills", "deck", "arches", "wings")

type Choice = tuple[int, ...]
type Answer = str | float


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """Something that can be chosen, and the answers; the first is the usual one."""

    name: str
    answers: tuple[Answer, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """Every arrangement that is looked at for a job.

    Attributes:
        job: Bay, vehicle, carry list and build; its blocks, decks and work in hand taken off.
        questions: What may be chosen.
    """

    job: Job
    questions: tuple[Question, ...]

    @property
    def size(self) -> int:
        """How many combinations of answers there are, equal units counted more than once."""
        return prod(len(question.answers) for question in self.questions)

    def only(self, **answers: tuple[Answer, ...]) -> Space:
        """Return the same space with fewer answers to some questions."""
        return replace(
            self,
            questions=tuple(
                replace(each, answers=answers.get(each.name, each.answers))
                for each in self.questions
            ),
        )

    def place(self, name: str) -> int:
        """Return which question has a name."""
        return next(k for k, each in enumerate(self.questions) if each.name == name)


def space_of(job: Job, catalogue: Catalogue) -> Space:
    """Return what may be chosen for a job.

    Args:
        job: Its bay, vehicle, carry list and build count.
        catalogue: Sheets and runners.
    """
    bay = job.bay
    has_arches = bool(bay.arches)
    layouts = layouts_of(bay)
    rows = ("one", "two", "three", "one beside two", "two beside one")
    return Space(
        job=_bare(job, catalogue),
        questions=(
            Question(name="layout", answers=layouts),
            Question(name="columns", answers=tuple(range(1, most_columns(bay) + 1))),
            Question(name="widths", answers=("even", "wide left", "wide right")),
            Question(name="rows", answers=rows),
            Question(name="heights", answers=("even", "shallow on top", "deep on top")),
            Question(name="fills", answers=("drawers", "tray", "open", "through", "locker")),
            Question(name="depth", answers=depths_of(bay, catalogue)),
            Question(name="height", answers=heights_of(job)),
            Question(name="deck", answers=("fixed", "lift-out", "none")),
            Question(name="back", answers=("block", "wall")),
            Question(name="arches", answers=("between", "over") if has_arches else ("between",)),
            Question(name="modules", answers=("separate", "shared")),
            Question(name="wings", answers=_wings(job)),
            *(
                Question(name=key, answers=names)
                for key, names in sheet_questions(job.build, catalogue)
            ),
        ),
    )


def _wings(job: Job) -> tuple[str, ...]:
    """Wings cover what lies beside a narrower body: over arches, or beside a tub's floor."""
    if job.bay.arches or job.bay.kind == "tub":
        return ("none", "fixed", "lid", "fixed left")
    return ("none",)


def _bare(job: Job, catalogue: Catalogue) -> Job:
    """Return a job without its blocks, decks and work in hand; the saw is the one in use."""
    saw = job.build.saw
    shelf = {row.name: row.method for row in catalogue.saws}
    if shelf.get(saw) != job.build.method and any(a.field == "build.saw" for a in job.assumed):
        saw = next((n for n, method in shelf.items() if method == job.build.method), saw)
    return replace(
        job,
        blocks=(),
        decks=(),
        done=(),
        spoiled=(),
        readings=(),
        assumed=(),
        warnings=(),
        build=replace(job.build, saw=saw),
        carry=tuple(_free(item, job.carry) for item in job.carry),
    )


def _free(item: CarryItem, carry: tuple[CarryItem, ...]) -> CarryItem:
    """Return a thing that names no opening; it goes with those that named the same."""
    if item.on:
        return replace(item, on="deck", at=None)  # the deck of an explored unit is called so
    if not item.goes_in:
        return item
    with_it = tuple(
        other.what for other in carry if other is not item and other.goes_in == item.goes_in
    )
    return replace(item, goes_in="", goes_with=tuple(dict.fromkeys((*item.goes_with, *with_it))))


def chosen(space: Space, choice: Choice) -> dict[str, Answer]:
    """Return the answers by question."""
    return {
        question.name: question.answers[k]
        for question, k in zip(space.questions, choice, strict=True)
    }


def normal(space: Space, choice: Choice) -> Choice:
    """Return the arrangement with what makes no difference set to its first answer."""
    said = chosen(space, choice)
    if said["fills"] == "through" and _no_long_things(space, said):
        choice = _set(space, choice, "fills", "drawers")
        said = chosen(space, choice)
    void: set[str] = set()
    if said["columns"] == 1:
        void |= {"widths", "modules"}
        if said["fills"] in {"through", "tray"}:
            void |= {"rows"}
        if said["rows"] in {"one beside two", "two beside one"}:
            choice = _set(space, choice, "rows", "two")
            said = chosen(space, choice)
    if said["rows"] == "one" or "rows" in void:
        void.add("heights")
    if said["layout"] == "sides":
        void |= {"depth", "arches", "wings", "back"}
    if said["deck"] == "none":
        void |= {"back", "wings", "deck_sheet"}
    if said["arches"] == "over":
        void.add("wings")
    if said["columns"] == 1 and said["layout"] in {"tail", "sides"}:
        void |= _unused_sheets(said)
    return tuple(
        0 if question.name in void else k
        for question, k in zip(space.questions, choice, strict=True)
    )


def _no_long_things(space: Space, said: dict[str, Answer]) -> bool:
    """Tell whether a space for long things is none: to a side, or all there is.

    A box as wide as the bay with nothing in it is an open shelf, where columns can stand beside it.
    """
    several = max(float(k) for k in space.questions[space.place("columns")].answers) > 1.0
    return said["layout"] == "sides" or (said["columns"] == 1 and several)


def _unused_sheets(said: dict[str, Answer]) -> set[str]:
    """Return the sheets that a single column uses for nothing."""
    alone = said["fills"] == "through" or said["rows"] == "one"
    if not alone or said["fills"] in {"drawers", "tray"}:
        return set()
    boxes = {"drawer", "drawer_bottom"}
    return boxes if said["fills"] == "locker" else boxes | {"front_sheet"}


def usual(space: Space) -> tuple[Choice, ...]:
    """Return what is built most: a few columns and rows, with and without wings, else as usual."""
    asked = ("columns", "rows", "wings", "layout")
    ranges = [
        range(len(question.answers)) if question.name in asked else range(1)
        for question in space.questions
    ]
    return tuple(dict.fromkeys(normal(space, choice) for choice in product(*ranges)))


def _set(space: Space, choice: Choice, name: str, answer: Answer) -> Choice:
    place = space.place(name)
    answers = space.questions[place].answers
    k = answers.index(answer) if answer in answers else choice[place]
    return (*choice[:place], k, *choice[place + 1 :])


def everything(space: Space) -> Iterator[Choice]:
    """Yield every different arrangement of a small space, in order."""
    seen: set[Choice] = set()
    for choice in product(*(range(len(q.answers)) for q in space.questions)):
        same = normal(space, choice)
        if same not in seen:
            seen.add(same)
            yield same


def by_chance(space: Space, dice: Dice) -> Choice:
    """Return any arrangement."""
    choice = tuple(dice.below(len(question.answers)) for question in space.questions)
    return normal(space, choice)


def neighbours(space: Space, choice: Choice) -> tuple[Choice, ...]:
    """Return every arrangement that differs in one answer."""
    found = {
        normal(space, (*choice[:k], answer, *choice[k + 1 :]))
        for k, question in enumerate(space.questions)
        for answer in range(len(question.answers))
    }
    return tuple(sorted(found - {choice}))


def crossed(space: Space, one: Choice, two: Choice, dice: Dice) -> Choice:
    """Return an arrangement that takes each answer from one of two, and changes one or two."""
    mixed = [pair[dice.below(2)] for pair in zip(one, two, strict=True)]
    for _ in range(1 + dice.below(2)):
        k = dice.below(len(mixed))
        mixed[k] = dice.below(len(space.questions[k].answers))
    return normal(space, tuple(mixed))


def shaken(space: Space, choice: Choice, dice: Dice) -> Choice:
    """Return an arrangement with two or three answers of one changed."""
    other = list(choice)
    for _ in range(2 + dice.below(2)):
        k = dice.below(len(other))
        other[k] = dice.below(len(space.questions[k].answers))
    return normal(space, tuple(other))
