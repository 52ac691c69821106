"""What all visitors share: the jobs, the work that is going on, who is looking at what."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import logging
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stowright.app.bench import Bench, Benches
from stowright.app.long_work import Kind, Task, WorkFailedError, Workroom
from stowright.errors import JobError, StoppedError, StowrightError

if TYPE_CHECKING:
    from stowright.app.study import Study
    from stowright.model.plan import Plan
    from stowright.web.porter import Porter
    from stowright.web.sharing import Sharing

__all__ = ["House", "Undertaking", "Watcher"]

log = logging.getLogger("stowright.web")

#: Shows a visitor what stands now.
type Watcher = Callable[[], Awaitable[None]]
_LOOK_EVERY_S = 1.0
_KEPT_FILES = 12
#: Changes that follow each other faster than this are settled together. [s]
_PAUSE_S = 0.3
#: New objects before memory is looked through, and how many such looks make a longer one: a look
#: through everything takes a tenth of a second, so that it is left to the pauses (``clear_up``).
_OBJECTS, _LOOKS = 50_000, (20, 1000)


@dataclass(slots=True)
class Undertaking:
    """Long work for a job.

    Attributes:
        what: What is made, in words.
        doing: What is being done now.
        error: Why it broke off, in words; empty while it goes on.
    """

    what: str
    doing: str = "starting"
    error: str = ""


@dataclass(slots=True)
class House:
    """The running app."""

    benches: Benches
    workroom: Workroom
    settling: Workroom
    sharing: Sharing
    watchers: dict[str, dict[int, Watcher]] = field(default_factory=dict)
    works: dict[str, Undertaking] = field(default_factory=dict)
    plans: dict[str, Plan] = field(default_factory=dict)
    files: dict[tuple[str, str], Any] = field(default_factory=dict)
    running: dict[str, asyncio.Task[None]] = field(default_factory=dict)
    last_plans: dict[str, Plan] = field(default_factory=dict)
    last_figures: dict[str, dict[int, str]] = field(default_factory=dict)
    settlers: dict[str, asyncio.Task[None]] = field(default_factory=dict)
    telling: set[asyncio.Task[None]] = field(default_factory=set)
    unsettled: set[str] = field(default_factory=set)
    packing: dict[str, str] = field(default_factory=dict)
    stopped: dict[tuple[str, Kind], str] = field(default_factory=dict)
    porter: Porter | None = None

    def watch(self, job: str, number: int, watcher: Watcher) -> None:
        """Let a visitor know of changes to a job; an empty name is the list of jobs."""
        self.watchers.setdefault(job, {})[number] = watcher

    def tell_others(self, job: str, but: int) -> None:
        """Show everybody else, after the one who made the change, what stands now."""
        if len(self.watchers.get(job, {})) > 1:
            going = asyncio.create_task(self.tell(job, but=but))
            self.telling.add(going)
            going.add_done_callback(self.telling.discard)

    def leave(self, job: str, number: int) -> None:
        """Let a visitor go."""
        self.watchers.get(job, {}).pop(number, None)

    async def tell(self, job: str, *, but: int | None = None) -> None:
        """Show everybody at a job what stands now; the scene is made ready beside the loop.

        Args:
            job: The job; empty for the list of jobs.
            but: Number of a visitor who is shown it without being told.
        """
        if job:
            with contextlib.suppress(StowrightError, OSError):  # who is told finds that as well
                await asyncio.to_thread(lambda: self.benches.open(job).scene())
        told = [each for number, each in self.watchers.get(job, {}).items() if number != but]
        for watcher in told:
            try:
                await watcher()
            except Exception:
                log.exception("a visitor of %r could not be told", job)

    async def keep_looking(self) -> None:
        """Notice what other programs do to the files of open jobs."""
        while True:
            await asyncio.sleep(_LOOK_EVERY_S)
            for job in [name for name, watching in self.watchers.items() if name and watching]:
                try:
                    if not self.benches.folder.has(job):
                        await self.tell(job)
                        continue
                    bench = self.benches.open(job)
                    if await asyncio.to_thread(bench.refresh):
                        await self.tell(job)
                except (StowrightError, OSError) as error:
                    log.warning("%r cannot be looked at: %s", job, error)

    def plan_of(self, bench: Bench) -> Plan | None:
        """Return the whole plan of a job as it stands, if it was worked out."""
        return self.plans.get(bench.text)

    def shown_plan(self, bench: Bench) -> Plan | None:
        """Return the plan to show: of the job as it stands, else the last one of the same job."""
        return self.plan_of(bench) or self.last_plans.get(bench.name)

    def shown_figures(self, bench: Bench) -> dict[int, str]:
        """Return the figures of the steps to show, by the step's number."""
        found: dict[int, str] | None = self.made_of(bench, "figures")
        return found if found is not None else self.last_figures.get(bench.name, {})

    def made_of(self, bench: Bench, kind: str) -> Any:
        """Return what was made for a job as it stands: ``figures``, ``book``, ``files``."""
        return self.files.get((kind, bench.text))

    def want_settled(self, bench: Bench) -> None:
        """Have the load packed and the bolts planned, once the changes pause."""
        study = bench.study
        if study.design is None or study.settled or bench.text in self.unsettled:
            return
        if bench.name not in self.settlers:
            going = asyncio.create_task(self._settle(bench))
            self.settlers[bench.name] = going
            going.add_done_callback(lambda _: self.settlers.pop(bench.name, None))

    async def _settle(self, bench: Bench) -> None:
        while not bench.study.settled and bench.text not in self.unsettled:
            text = bench.text
            await asyncio.sleep(_PAUSE_S)
            if self._is_to_settle(bench, text):
                await asyncio.to_thread(bench.read_ahead)
            if not self._is_to_settle(bench, text):
                continue
            task = self.task(bench, "settled")
            say = self._packs(bench.name)
            try:
                looked = await asyncio.to_thread(self.settling.run, bench.name, task, say)
            except StoppedError:
                if text != bench.text:
                    continue  # it was stopped for what stands now
                self.unsettled.add(text)
                await self.tell(bench.name)
                return
            except (StowrightError, WorkFailedError):
                log.exception("%r could not be settled", bench.name)
                self.unsettled.add(text)
                return
            if looked.design is None:
                self.unsettled.add(text)
            await self._cut_shapes(bench, looked)
            if await asyncio.to_thread(bench.settle, looked):
                await self.tell(bench.name)
            clear_up()

    def _is_to_settle(self, bench: Bench, text: str) -> bool:
        return text == bench.text and text not in self.unsettled

    def _packs(self, job: str) -> Callable[[str], None]:
        """Return what shows everybody at a job how far its packing is; called in a thread."""
        loop = asyncio.get_running_loop()
        self.packing.pop(job, None)

        def say(words: str) -> None:
            self.packing[job] = words
            asyncio.run_coroutine_threadsafe(self.tell(job), loop)

        return say

    async def _cut_shapes(self, bench: Bench, looked: Study) -> None:
        """Have the shapes of a settled design ready, so that none that is whole is shown anew."""
        scene = await asyncio.to_thread(bench.scene_of, looked)
        if scene is not None:
            with contextlib.suppress(asyncio.CancelledError):
                await asyncio.wrap_future(self.benches.shapes.want(scene.parts))

    def stop_settling(self, bench: Bench) -> None:
        """Stop packing the load; the job stays as it is until it is asked for again."""
        if bench.name in self.settlers:
            self.unsettled.add(bench.text)
            self.settling.stop(bench.name)

    def want(self, bench: Bench, kind: Kind, what: str) -> None:
        """Begin what a page needs, unless a person stopped it or something else goes on."""
        if bench.name not in self.works and not self.was_stopped(bench, kind):
            self.begin(bench, self.task(bench, kind), what)

    def was_stopped(self, bench: Bench, kind: Kind) -> bool:
        """Return whether a person stopped this work for the job as it stands."""
        return self.stopped.get((bench.name, kind)) == bench.text

    def want_again(self, job: str) -> None:
        """Let what was stopped begin again, now that somebody comes to a page of the job."""
        for name in [each for each in self.stopped if each[0] == job]:
            del self.stopped[name]

    async def settle_again(self, bench: Bench) -> None:
        """Have the load packed after a stop; what was stopped ends first, or would stop this.

        Nothing is waited for when somebody asked for it already.
        """
        text, going = bench.text, self.settlers.get(bench.name)
        while going is not None and not going.done():
            if text != bench.text or text not in self.unsettled:
                break
            self.settling.stop(bench.name)  # and again, if it was only about to begin
            await asyncio.wait({going}, timeout=_LOOK_EVERY_S)
        self.unsettled.discard(bench.text)
        self.want_settled(bench)

    def begin(self, bench: Bench, task: Task, what: str) -> asyncio.Task[None] | None:
        """Begin long work for a job; None when some is going on already."""
        if bench.name in self.running:
            return None
        self.works[bench.name] = Undertaking(what)
        going = asyncio.create_task(self._work(bench, task))
        self.running[bench.name] = going
        going.add_done_callback(lambda ended: self._ended(bench.name, ended))
        return going

    def _ended(self, job: str, ended: asyncio.Task[None] | None) -> None:
        if self.running.get(job) is ended:
            self.running.pop(job, None)

    def stop(self, job: str) -> None:
        """Stop the long work of a job."""
        self.workroom.stop(job)

    async def _work(self, bench: Bench, task: Task) -> None:
        work, loop = self.works[bench.name], asyncio.get_running_loop()

        def say(words: str) -> None:
            work.doing = words
            asyncio.run_coroutine_threadsafe(self.tell(bench.name), loop)

        try:
            made = await asyncio.to_thread(self.workroom.run, bench.name, task, say)
            self._keep(bench, task, made)
            self.works.pop(bench.name, None)
        except StoppedError:
            self.stopped[bench.name, task.kind] = task.text
            self.works.pop(bench.name, None)
        except StowrightError as error:
            work.error = str(error)
        except WorkFailedError as error:
            log.exception("work broke off: %s of %r\n%s", task.kind, bench.name, task.text)
            work.error = f"The program broke off: {str(error).strip().splitlines()[-1]}"
        self._ended(bench.name, asyncio.current_task())  # what a page then asks for may begin
        await self.tell(bench.name)

    def _keep(self, bench: Bench, task: Task, made: Any) -> None:
        if task.kind == "plan":
            self.plans[task.text] = self.last_plans[bench.name] = made
            for old in list(self.plans)[:-_KEPT_FILES]:
                del self.plans[old]
        else:
            # proposals stay while the job changes: they are taken one after another to compare
            name = bench.name if task.kind == "proposals" else task.text
            if task.kind == "figures":
                self.last_figures[bench.name] = made
            if task.kind == "pages":  # they are large: the last ones alone are kept
                for each in [key for key in self.files if key[0] == "pages"]:
                    del self.files[each]
            self.files[task.kind, name] = made
            for each in list(self.files)[:-_KEPT_FILES]:
                del self.files[each]

    async def wait_for(self, bench: Bench, task: Task, what: str) -> Any:
        """Work something out for one who waits for it.

        Raises:
            JobError: If the job is no valid one.
            StowrightError: As the work raises it.
        """
        if bench.locked:
            raise JobError(bench.locked)
        while (found := self._made(task)) is None:
            going = self.running.get(bench.name)
            mine = going is None
            if mine:
                self.works.pop(bench.name, None)
                going = self.begin(bench, task, what)
            if going is not None:
                await asyncio.wait({going})
            if mine and self._made(task) is None:
                work = self.works.get(bench.name)
                raise StoppedError(work.error if work is not None else "it was stopped")
        return found

    def _made(self, task: Task) -> Any:
        if task.kind == "plan":
            return self.plans.get(task.text)
        return self.files.get((task.kind, task.text))

    def end_work(self) -> None:
        """End all long work, so that whoever waits for it is answered before the program ends."""
        self.workroom.close()
        self.settling.close()

    def task(self, bench: Bench, kind: Kind) -> Task:
        """Return a task for a job as it stands."""
        shop = self.benches.shop_file
        return Task(kind=kind, text=bench.text, shop_file=shop if shop.is_file() else None)


def clear_up() -> None:
    """Look through memory for what is left over, now that changes pause, and not during one.

    What stands now is put beyond the next look, which a change would wait for.
    """
    gc.set_threshold(_OBJECTS, *_LOOKS)
    gc.unfreeze()
    gc.collect()
    gc.freeze()
