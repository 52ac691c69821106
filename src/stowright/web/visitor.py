"""One open tab: what it looks at, what was typed and refused, and how it changes the job."""

from __future__ import annotations

import asyncio
import itertools
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from stowright.app.bench import Bench, ConflictError
from stowright.app.edits import Edits, has_moved, tables_of, value_at, worded
from stowright.errors import JobError, StowrightError

if TYPE_CHECKING:
    from stowright.units import Unit
    from stowright.web.house import House

__all__ = ["Conflict", "Draft", "Event", "Notice", "Visitor", "conflict_of"]

_NUMBERS = itertools.count(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """What a person did.

    Attributes:
        act: Which doing.
        data: What the element carries.
        value: A field's value.
        values: A form's values.
        seen: The version that the person looked at.
        turn: Number of the act in its part of the page; 0 for one that waits for no answer.
    """

    act: str
    data: dict[str, str]
    value: str = ""
    values: dict[str, str] = field(default_factory=dict)
    seen: int = 0
    turn: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """What was typed into a field and could not be saved."""

    text: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """A line at the top of the page."""

    text: str
    kind: Literal["told", "wrong"] = "told"


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """A change that met another one, waiting for a person to decide."""

    rows: tuple[tuple[str, str, str, str], ...]
    edits: Edits
    what: str
    seen: int


@dataclass(slots=True)
class Visitor:
    """One tab.

    Attributes:
        job: The job looked at; empty for the list of jobs.
        stage: The page.
        can_edit: Whether it may change anything.
        is_local: Whether it sits at this machine.
        own: Versions that this tab itself led from, with the version that it led to.
        at_work: Held while an act is done: acts of a tab are done in the order they were told.
    """

    house: House
    job: str = ""
    stage: str = "jobs"
    can_edit: bool = True
    is_local: bool = True
    who: str = "this machine"
    number: int = field(default_factory=lambda: next(_NUMBERS))
    drafts: dict[str, Draft] = field(default_factory=dict)
    notice: Notice | None = None
    conflict: Conflict | None = None
    picked: str = ""
    marked: tuple[str, ...] = ()
    chosen: dict[str, str] = field(default_factory=dict)
    own: dict[int, int] = field(default_factory=dict)
    at_work: asyncio.Lock = field(default_factory=asyncio.Lock)
    print_pages: Callable[[str], None] | None = None
    go_to: Callable[[str], None] | None = None

    @property
    def bench(self) -> Bench:
        """The job's bench.

        Raises:
            UnknownNameError: If the job is gone.
        """
        return self.house.benches.open(self.job)

    @property
    def units(self) -> Unit:
        """The job's unit of print."""
        return "in" if self.at("job.units") == "in" else "mm"

    def may_change(self) -> bool:
        """Return whether this tab may change the job as it stands."""
        return self.can_edit and (not self.job or not self.bench.locked)

    def at(self, path: str) -> Any:
        """Return what the job file says at a path, as it was written."""
        return value_at(tables_of(self.bench.text), path)

    async def edit(
        self, edits: Edits, seen: int, *, what: str = "", drafts: dict[str, str] | None = None
    ) -> bool:
        """Change fields; show everybody; keep what was refused where it was typed.

        Args:
            edits: New values by path.
            seen: The version that the person looked at.
            what: The change in words.
            drafts: What was typed, by path, to be kept when it is refused.
        """
        if not self.can_edit:
            self.notice = Notice(text="This device may only look.", kind="wrong")
            return False
        typed = drafts or {}
        try:
            self.went(*await asyncio.to_thread(self._change, edits, self.since(seen), what))
        except JobError as error:
            self._keep_drafts(error, typed)
            return False
        except ConflictError as error:
            self.conflict = conflict_of(error, what)
            return False
        except StowrightError as error:
            self.notice = Notice(text=str(error), kind="wrong")
            return False
        for path in edits:
            self.drafts.pop(path, None)
        self.notice = None
        self.house.tell_others(self.job, self.number)
        return True

    async def replace(self, text: str, seen: int, *, what: str) -> None:
        """Put a whole job file in the place of the one that stands, and show everybody.

        Raises:
            JobError: If it is no valid job.
            ConflictError: If somebody else changed the job since the person looked.
        """
        bench, known = self.bench, self.since(seen)
        went = await asyncio.to_thread(bench.replace, text, what=what, who=self.who, seen=known)
        self.went(*went)
        await self.house.tell(self.job)

    async def append(self, path: str, row: object, *, what: str) -> bool:
        """Add a row to the end of a list of the job, however long the list is by now."""
        with self.bench.held():
            place, seen = len(self.at(path) or []) + 1, self.bench.number
        return await self.edit({f"{path}[{place}]": row}, seen, what=what)

    def since(self, seen: int) -> int:
        """Return the version that this tab alone led to from the one that a person looked at.

        Who types faster than the page follows does not meet the own changes as somebody else's.
        """
        return self._led_from(seen)[-1]

    def _led_from(self, seen: int) -> list[int]:
        """Return the versions that this tab alone led through, from one on to what stands.

        Undoing and redoing, others may have come back to a version that this tab once led from.
        """
        versions, stands = [seen], self.bench.number
        while versions[-1] in self.own and versions[-1] != stands:
            versions.append(self.own[versions[-1]])
        return versions

    def went(self, before: int, after: int) -> None:
        """Note that this tab led from one version to another."""
        self.own.pop(after, None)
        if before != after:
            self.own[before] = after

    def has_moved(self, path: str, seen: int) -> bool:
        """Return whether a place in a list may be another row by this tab's own last changes."""
        if not path or seen not in self.own:
            return False
        kept = (self.bench.records.text(self.job, each) for each in self._led_from(seen))
        texts = [text for text in kept if text is not None]
        return any(has_moved(before, now, path) for before, now in itertools.pairwise(texts))

    async def decide(self, *, mine: bool) -> None:
        """Settle a conflict: make the change all the same, or leave what stands."""
        conflict, self.conflict = self.conflict, None
        if conflict is not None and mine:
            await self.edit(conflict.edits, conflict.seen, what=conflict.what)

    def _change(self, edits: Edits, seen: int, what: str) -> tuple[int, int]:
        bench = self.bench
        went = bench.edit(edits, seen=seen, what=what, who=self.who)
        bench.scene()
        return went

    def _keep_drafts(self, error: JobError, typed: dict[str, str]) -> None:
        told = False
        for path, text in typed.items():
            for mistake in error.mistakes:
                if mistake.field == path or path.startswith(mistake.field) or len(typed) == 1:
                    self.drafts[path] = Draft(text=text, reason=_reason(mistake))
                    told = told or mistake.field == path
        if not told:
            self.notice = Notice(text=f"Not saved. {_told(error)}", kind="wrong")


def _reason(mistake: Any) -> str:
    hint = f" Did you mean {mistake.nearest}?" if mistake.nearest else ""
    return f"{mistake.found} cannot stand here; allowed: {mistake.allowed}.{hint}"


def _told(error: JobError) -> str:
    first = error.mistakes[0]
    more = f" (and {len(error.mistakes) - 1} more)" if len(error.mistakes) > 1 else ""
    return f"{first.field}: {_reason(first)}{more}"


def conflict_of(error: ConflictError, what: str) -> Conflict:
    """Return a change that met another one, in words, for a person to decide."""
    rows = tuple(
        (clash.path, worded(clash.seen), worded(clash.now), worded(clash.wanted))
        for clash in error.clashes
    )
    return Conflict(rows=rows, edits=error.edits, what=what, seen=error.number)
