"""What of the model a page has already: a change sends the shapes that changed and no others."""

from __future__ import annotations

import asyncio
import json
from typing import TYPE_CHECKING, Any, Protocol

from stowright.app.scene import quick_shape

if TYPE_CHECKING:
    from stowright.app.scene import Scene, Shape, Shapes

__all__ = ["ModelOnPage"]


class _Shows(Protocol):
    def place(self, number: int, told: str) -> None: ...


class ModelOnPage:
    """The model of one open page.

    A page lets go of shapes that its model does not use, and so does what is remembered here.
    """

    def __init__(self, viewer: _Shows, shapes: Shapes) -> None:
        self._viewer, self._shapes = viewer, shapes
        self._is_there = False
        self._scene: Scene | None = None
        self._shown = ""
        self._sent: dict[int, bool] = {}
        self._waiting: set[asyncio.Task[None]] = set()
        self._number = 0
        self._pile: list[tuple[int, str]] = []

    async def begin(self) -> None:
        """Take note that the page can draw."""
        self._is_there, self._shown = True, ""
        self._sent.clear()
        self._pile.clear()
        if self._scene is not None:
            self.show(self._scene)

    def show(self, scene: Scene) -> None:
        """Show a scene; new shapes as outlines first, with all that is cut into them next."""
        self._scene = scene
        if not self._is_there or scene.key == self._shown:
            return
        self._shown = scene.key
        self._sent = {n: whole for n, whole in self._sent.items() if n in scene.parts}
        fresh = self._whole(scene)
        for number, part in scene.parts.items():
            if number not in self._sent:
                fresh[str(number)] = quick_shape(part)
                self._sent[number] = False
        self._place(
            "showScene",
            key=scene.key,
            pieces=scene.pieces,
            motions=scene.motions,
            woods=scene.woods,
            loads=scene.loads,
            straps=scene.straps,
            fresh=fresh,
            whole=all(self._sent.values()),
        )
        self._cut(scene)

    def _whole(self, scene: Scene) -> dict[str, Shape]:
        """Return the whole shapes that the page has not, and note that it has them."""
        found: dict[str, Shape] = {}
        for number in scene.parts:
            shape = None if self._sent.get(number) else self._shapes.ready(number)
            if shape is not None:
                found[str(number)] = shape
                self._sent[number] = True
        return found

    def placed(self, number: int) -> None:
        """Take note of what has arrived; what has not is handed over again with the next."""
        self._pile = [each for each in self._pile if each[0] > number]

    def _place(self, what: str, **told: Any) -> None:
        self._number += 1
        line = json.dumps({"number": self._number, "what": what, **told}, separators=(",", ":"))
        self._pile.append((self._number, line))
        self._viewer.place(self._number, f"[{','.join(each for _, each in self._pile)}]")

    def _cut(self, scene: Scene) -> None:
        missing = {n: part for n, part in scene.parts.items() if not self._sent[n]}
        if missing:
            going = asyncio.get_running_loop().create_task(self._follow(scene, missing))
            self._waiting.add(going)
            going.add_done_callback(self._waiting.discard)

    async def _follow(self, scene: Scene, missing: dict[int, Any]) -> None:
        await asyncio.wait([asyncio.wrap_future(self._shapes.want(missing))])
        if self._shown == scene.key:
            self._place("cutShapes", key=scene.key, fresh=self._whole(scene))
