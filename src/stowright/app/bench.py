"""One job on the bench: every change is saved at once, can be undone, and meets others openly."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from stowright.app.edits import Clash, Edits, clashes, edited, told
from stowright.app.jobs_folder import JobsFolder
from stowright.app.loading import load_catalogue, load_job, read_text
from stowright.app.scene import Scene, Shapes, scene_of
from stowright.app.study import Study, study
from stowright.errors import JobError, Mistake, UnknownNameError
from stowright.shop.records import Records, Version

if TYPE_CHECKING:
    from stowright.app.second_hand import SecondHand
    from stowright.model.catalogue import Catalogue

__all__ = ["RECORDS", "Bench", "Benches", "Clock", "ConflictError", "now_text"]

#: The records file of a jobs folder.
RECORDS = ".stowright-shop.db"
OUTSIDE = "outside this program"
_SHOP_FILE = "catalogue.toml"
#: How many earlier studies and models are remembered, for undo and redo.
_REMEMBERED = 7

#: Tells the time of a version, as text.
type Clock = Callable[[], str]


class ConflictError(Exception):
    """A change meets another one made since the person looked.

    Attributes:
        clashes: The fields.
        edits: The whole change, to make it all the same.
        number: The version that it met.
    """

    def __init__(self, clashes: tuple[Clash, ...], edits: Edits, number: int) -> None:
        super().__init__(clashes, edits, number)
        self.clashes, self.edits, self.number = clashes, edits, number


def now_text() -> str:
    """Return the time as it stands in a history: UTC, to the second."""
    return datetime.now(UTC).strftime("%Y-%m-%d %H:%M:%S")


class Bench:
    """A job that is open. All doings are safe to call from several threads.

    Attributes:
        name: The job's name in its folder.
        number: The version whose study stands here. It goes up when the study is there, not when
            the file is written: a page drawn in between would show old sizes under a new number.
        seen: The last study that had a design, for the picture while a newer one has none.
        last_settled: The last study shown that was settled.
    """

    def __init__(
        self,
        folder: JobsFolder,
        records: Records,
        name: str,
        *,
        catalogue: Catalogue,
        clock: Clock,
        hand: SecondHand | None = None,
    ) -> None:
        self.name, self.records, self.catalogue = name, records, catalogue
        self._path, self._clock = folder.path(name), clock
        self._lock = threading.RLock()
        self._standing, self._drawing = threading.RLock(), threading.RLock()
        self._scenes: dict[tuple[str, bool], Scene] = {}
        self._settled: dict[str, Study] = {}
        self._stamp = (0, 0)
        self.hand = hand
        self.study = Study(text="")
        self.seen: Study | None = None
        self.last_settled: Study | None = None
        self.number = 0
        self.refresh()

    def held(self) -> AbstractContextManager[object]:
        """Return what keeps the study and its number as they are until its block is left.

        A page is drawn in it, so that no part of it tells of another version than the rest. It is
        short work: who changes the job waits at the very end, when all is worked out.
        """
        return self._standing

    @property
    def text(self) -> str:
        """The job file as it stands."""
        return self.study.text

    @property
    def locked(self) -> tuple[Mistake, ...]:
        """Why the job can only be looked at; empty while it can be changed."""
        return self.study.mistakes

    def refresh(self) -> bool:
        """Take over what another program wrote; return whether it wrote anything.

        Raises:
            JobError: If the file cannot be read.
        """
        with self._lock:
            stamp = self._file_stamp()
            if stamp == self._stamp and self.study.text:
                return False
            text = read_text(self._path)
            self._stamp = stamp
            head = self.records.head(self.name)
            known = None if head is None else self.records.text(self.name, head.number)
            if text != known:
                what = "opened" if head is None else "changed"
                self._keep(text, what, "" if head is None else OUTSIDE)
            changed = text != self.study.text
            if changed or not self.study.text:
                self._look(text)
            else:
                self._show(self.study)  # another number may stand for the same text
            return changed

    def edit(
        self, edits: Edits, *, seen: int, what: str = "", who: str = "", force: bool = False
    ) -> tuple[int, int]:
        """Change fields and save; return the version it was made from and the one that stands then.

        Args:
            edits: New values by path.
            seen: Number of the version that the person looked at.
            what: The change in words; made from the fields when empty.
            who: Where it comes from.
            force: Change it although somebody else did since.

        Raises:
            JobError: If the outcome would be no valid job; nothing is saved.
            ConflictError: If a field was changed since; nothing is saved.
            UnknownNameError: If a path leads nowhere.
        """
        with self._lock:
            looked = self._edited(edits, seen, force=force)
            while self.refresh():  # another program wrote meanwhile: nothing of that is lost
                looked = self._edited(edits, seen, force=force)
            made_from = self.number
            if looked.text != self.text:
                self._save(looked.text, what or told(edits, self.text), who, looked)
            return made_from, self.number

    def _edited(self, edits: Edits, seen: int, *, force: bool) -> Study:
        """Return what a change of the job as it stands comes to."""
        self.refresh()
        basis = self.records.text(self.name, seen)
        met = () if force or basis is None else clashes(basis, self.text, edits)
        if met:
            raise ConflictError(met, edits, self.number)
        text = edited(self.text, edits)
        if text == self.text:
            return self.study
        looked = self._studied(text)
        self._require_no_new(looked)
        return looked

    def replace(
        self, text: str, *, what: str, who: str, seen: int | None = None
    ) -> tuple[int, int]:
        """Put a whole job file in the place of the one that stands; return as ``edit`` does.

        Raises:
            JobError: If it is no valid job.
            ConflictError: If the job was changed since the person looked.
        """
        with self._lock:
            looked = study(text, self.catalogue)
            if looked.mistakes:
                raise JobError(looked.mistakes)
            self.refresh()
            if seen is not None and seen != self.number:
                clash = Clash(path="file", seen=f"version {seen}", now=self.number, wanted=what)
                raise ConflictError((clash,), {}, self.number)
            made_from = self.number
            if text != self.text:
                self._save(text, what, who, looked)
            return made_from, self.number

    def read_ahead(self) -> None:
        """Make the next change quicker, while nobody waits."""
        from stowright.jobfile import read_ahead

        with contextlib.suppress(JobError):
            read_ahead(self.text)

    def undo(self) -> Version | None:
        """Go back one version; return the one that was taken back, None at the first."""
        with self._lock:
            self.refresh()
            head, before = self.records.head(self.name), self.records.before(self.name)
            if before is None:
                return None
            self._stand(before)
            return head

    def redo(self) -> Version | None:
        """Go forward again; return the version that stands then, None without any."""
        with self._lock:
            self.refresh()
            after = self.records.after(self.name)
            if after is not None:
                self._stand(after)
            return after

    def restore(self, number: int, *, who: str) -> None:
        """Let an earlier version stand again, as a new version.

        Raises:
            UnknownNameError: If that version is not kept.
        """
        with self._lock:
            text = self.records.text(self.name, number)
            if text is None:
                raise UnknownNameError("version", str(number))
            looked = study(text, self.catalogue)
            self.refresh()
            self._save(text, f"version {number} again", who, looked)

    def last_good(self) -> Version | None:
        """Return the newest version that is a valid job."""
        for version in self.records.versions(self.name):
            text = self.records.text(self.name, version.number)
            try:
                load_job((text or "").encode(), catalogue=self.catalogue)
            except JobError:
                continue
            return version
        return None

    def scene(self) -> Scene | None:
        """Return the scene of the design that is shown; None before there was one."""
        shown = self.shown
        return None if shown is None else self.scene_of(shown)

    def scene_of(self, looked: Study) -> Scene | None:
        """Return the scene of a study's design, remembered for a while; None without a design."""
        if looked.design is None:
            return None
        with self._drawing:
            name = (looked.text, looked.settled)
            found = self._scenes.get(name)
            if found is None:
                found = scene_of(looked.design)
                self._scenes = {**dict(list(self._scenes.items())[-_REMEMBERED:]), name: found}
            return found

    def settle(self, looked: Study) -> bool:
        """Show a settled study that was worked out elsewhere; return whether it still stands."""
        with self._lock:
            if looked.design is not None:
                kept = list(self._settled.items())[-_REMEMBERED:]
                self._settled = {**dict(kept), looked.text: looked}
            if looked.text != self.text or looked.design is None:
                return False
            self._show(looked)
            return True

    @property
    def shown(self) -> Study | None:
        """The study whose design is shown: this one, else the last that had one."""
        with self._standing:
            return self.study if self.study.design is not None else self.seen

    def settled_studies(self) -> tuple[Study, ...]:
        """Return the settled studies that are remembered."""
        return tuple(self._settled.values())

    def _stand(self, version: Version) -> None:
        text = self.records.text(self.name, version.number)
        if text is None:
            raise UnknownNameError("version", str(version.number))
        self._write(text)
        self.records.stand(self.name, version.number)
        self._look(text)

    def _studied(self, text: str) -> Study:
        """Return the study of a text, half of its proofs made beside, where that can be."""
        return study(text, self.catalogue, beside=self.hand.prove if self.hand else None)

    def _require_no_new(self, looked: Study) -> None:
        """A job that has mistakes already may be mended one by one; a new mistake is refused."""
        known = {mistake.field for mistake in self.study.mistakes}
        fresh = tuple(mistake for mistake in looked.mistakes if mistake.field not in known)
        if fresh:
            raise JobError(fresh)

    def _save(self, text: str, what: str, who: str, looked: Study) -> None:
        self._write(text)
        self._keep(text, what, who)
        self._show(looked)

    def _keep(self, text: str, what: str, who: str) -> None:
        self.records.add(self.name, text, what=what, who=who, made=self._clock())

    def _write(self, text: str) -> None:
        from stowright.jobfile import write_job_file

        write_job_file(self._path, text)
        self._stamp = self._file_stamp()

    def _look(self, text: str) -> None:
        self._show(self._settled.get(text) or self._studied(text))

    def _show(self, looked: Study) -> None:
        number = self._head_number()
        with self._standing:
            self.study, self.number = looked, number
            if looked.design is not None:
                self.seen = looked
            if looked.settled:
                self.last_settled = looked

    def _head_number(self) -> int:
        head = self.records.head(self.name)
        return 0 if head is None else head.number

    def _file_stamp(self) -> tuple[int, int]:
        try:
            found = self._path.stat()
        except OSError:
            return (0, -1)
        return (found.st_mtime_ns, found.st_size)


class Benches:
    """The open jobs of a folder, one bench for each, whoever looks at it."""

    def __init__(self, root: Path, *, clock: Clock = now_text) -> None:
        root.mkdir(parents=True, exist_ok=True)
        self.folder = JobsFolder(root)
        self.records = Records(self.folder.root / RECORDS)
        self.shop_file = self.folder.root / _SHOP_FILE
        self._clock = clock
        self._lock = threading.RLock()
        self._open: dict[str, Bench] = {}
        self.shapes = Shapes()
        self.hand: SecondHand | None = None

    def open(self, name: str) -> Bench:
        """Return the bench of a job.

        Raises:
            UnknownNameError: If there is no such job.
            JobError: If the file, or the shop's catalogue, cannot be read.
        """
        if not self.folder.has(name):
            known = tuple(entry.name for entry in self.folder.entries()[:3])
            raise UnknownNameError("job", name[:80], known)
        found = self._open.get(name)
        if found is not None:
            return found  # who looks at an open job waits for nobody who opens another one
        with self._lock:
            if name not in self._open:
                self._open[name] = Bench(
                    self.folder,
                    self.records,
                    name,
                    catalogue=self._shelf(),
                    clock=self._clock,
                    hand=self.hand,
                )
            return self._open[name]

    def new(self, wanted: str, text: str) -> str:
        """Save a job under a name that is free and return the name.

        Raises:
            JobError: If the text is no valid job.
        """
        from stowright.jobfile import write_job_file

        with self._lock:
            load_job(text.encode(), catalogue=self._shelf())
            name = self.folder.free_name(wanted)
            self.records.forget(name)
            write_job_file(self.folder.path(name), text)
            return name

    def copy(self, name: str) -> str:
        """Copy a job and return the copy's name.

        Raises:
            UnknownNameError: If there is no such job.
            JobError: If it is no valid job.
        """
        return self.new(f"{name} copy", self.open(name).text)

    def remove(self, name: str) -> None:
        """Put a job aside; its file and its versions stay.

        Raises:
            UnknownNameError: If there is no such job.
        """
        with self._lock:
            self.folder.remove(name)
            self._open.pop(name, None)

    def close(self) -> None:
        """Let go of the records."""
        self.shapes.close()
        self.records.close()

    def _shelf(self) -> Catalogue:
        return load_catalogue(self.shop_file if self.shop_file.is_file() else None)
