"""A page as nicegui serves it: two written parts and the model, tied to one visitor."""

from __future__ import annotations

import asyncio
import contextlib
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.element import Element

from stowright.app.model_view import bay_edges, size_lines
from stowright.web import shell
from stowright.web.markup import Markup
from stowright.web.model_on_page import ModelOnPage
from stowright.web.visitor import Event, Visitor

if TYPE_CHECKING:
    from nicegui.events import GenericEventArguments

__all__ = ["Pane", "Tab", "Viewer"]

#: Acts that come within this time are shown in one go. [s]
_TOGETHER_S = 0.005
_STATIC = Path(__file__).parent / "static"
_SCENE = Path(ui.__file__).parent / "elements" / "scene" / "dist"


class Pane(Element, component=_STATIC / "pane.js"):
    """A part of the page that is written here as markup."""

    def __init__(self) -> None:
        super().__init__()
        self._heard = 0
        self.write(Markup(""))

    def write(self, html: Markup) -> None:
        """Write the part anew, and tell up to which of its acts that is the answer."""
        fresh = {"html": str(html), "heard": self._heard}
        if any(self._props.get(key) != value for key, value in fresh.items()):
            self._props.update(fresh)
            self.update()

    def hear(self, turn: int) -> None:
        """Note that an act was done; the page is told with what is written next."""
        self._heard = max(self._heard, turn)


class Viewer(Element, component=_STATIC / "viewer.js", esm={"nicegui-scene": str(_SCENE)}):
    """The unit in three dimensions."""

    def show(self, **words: Any) -> None:
        """Show another model, other lines, or another picked piece."""
        if any(self._props.get(key) != value for key, value in words.items()):
            self._props.update(words)
            self.update()

    def place(self, number: int, told: str) -> None:
        """Hand the page something of the model, together with all else that changes now."""
        self._props["given"] = told
        self._props["number"] = number
        self.update()


class Tab:
    """The elements of one open page."""

    def __init__(self, visitor: Visitor) -> None:
        self.visitor = visitor
        self._due = False
        self.head = Pane()
        with ui.element("div").classes("stage") as self.stage:
            self.work = Pane()
            self.viewer = Viewer()
        self._model = ModelOnPage(self.viewer, visitor.house.benches.shapes)
        for pane in (self.head, self.work):
            pane.on("act", self._act)
        self.viewer.on("pick", self._picked)
        self.viewer.on("ready", self._model.begin)
        self.viewer.on("placed", self._placed)
        self._draw()

    async def show(self) -> None:
        """Show what stands now; acts that come together are shown together."""
        if self._due:
            return
        self._due = True
        await asyncio.sleep(_TOGETHER_S)
        self._due = False
        with self.head:
            self._draw()

    def _draw(self) -> None:
        """Write every part of the page from one state of the job, whoever changes it now."""
        visitor = self.visitor
        shell.leave_what_is_gone(visitor)
        with visitor.bench.held() if visitor.job else contextlib.nullcontext():
            self._write()

    def _write(self) -> None:
        visitor = self.visitor
        shell.arrive(visitor)
        self.head.write(shell.head(visitor))
        self.work.write(shell.work(visitor))
        beside = shell.is_with_model(visitor)
        self.stage.classes(
            add="with-model" if beside else "", remove="" if beside else "with-model"
        )
        if beside:
            self._show_model()

    def _show_model(self) -> None:
        visitor, bench = self.visitor, self.visitor.bench
        scene, shown = bench.scene(), bench.shown
        if scene is None or shown is None or shown.design is None:
            self.viewer.show(model="", lines=[], dims=[], picked="", marked=[])
            return
        self.viewer.show(
            model=scene.key,
            lines=bay_edges(shown.design.job.bay),
            dims=size_lines(shown.design, visitor.picked),
            picked=visitor.picked,
            marked=list(visitor.marked),
            title=f"{shown.design.job.title}: {len(shown.design.placed)} pieces",
        )
        self._model.show(scene)

    async def _act(self, given: GenericEventArguments) -> None:
        event = event_of(given.args)
        await shell.act(self.visitor, event)
        if isinstance(given.sender, Pane) and event.act not in shell.WAITS_LONG:
            given.sender.hear(event.turn)  # all acts told before it are done as well
        await self.show()

    async def _placed(self, given: GenericEventArguments) -> None:
        self._model.placed(given.args if isinstance(given.args, int) else 0)

    async def _picked(self, given: GenericEventArguments) -> None:
        part = given.args.get("part", "") if isinstance(given.args, dict) else ""
        self.visitor.picked = str(part)[:200]
        await self.show()


def event_of(args: Any) -> Event:
    """Return what a page told as an event; what has not its shape is dropped."""
    told = args if isinstance(args, dict) else {}
    data, values = told.get("data"), told.get("values")
    value = told.get("value", "")
    return Event(
        act=str(told.get("act", ""))[:40],
        data=_texts(data),
        value=("1" if value else "") if isinstance(value, bool) else str(value),
        values=_texts(values),
        seen=_count(told.get("seen")),
        turn=_count(told.get("turn")),
    )


def script_call(name: str, *words: object) -> str:
    """Return a call of one of the page's own functions."""
    return f"window.stowright.{name}({', '.join(json.dumps(word) for word in words)})"


def _texts(given: Any) -> dict[str, str]:
    if not isinstance(given, dict):
        return {}
    return {str(key)[:60]: str(value) for key, value in given.items()}


def _count(given: Any) -> int:
    return given if isinstance(given, int) and not isinstance(given, bool) else 0
