"""Files of a job by their address: what is made on demand, what is looked at in pages."""

from __future__ import annotations

import asyncio
import io
import zipfile
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, PlainTextResponse, Response

from stowright.app.cutting_csv import cutting_csv
from stowright.app.packing_view import packing_picture
from stowright.app.pictures import by_itself, layout_picture, part_picture
from stowright.app.plain import json_text
from stowright.app.plan_dict import plan_to_dict
from stowright.app.print_pages import section_pdf
from stowright.app.study import model_key
from stowright.drawings.glb import to_glb
from stowright.errors import StowrightError, UnknownNameError
from stowright.web.cut_page import picture_key
from stowright.web.packing_part import packing_key
from stowright.web.sheets_part import sheets_key, sheets_of

if TYPE_CHECKING:
    from stowright.app.bench import Bench
    from stowright.app.long_work import Kind
    from stowright.web.house import House

__all__ = ["routes"]

_TYPES = {
    "toml": "application/toml",
    "pdf": "application/pdf",
    "json": "application/json",
    "csv": "text/csv",
    "glb": "model/gltf-binary",
    "zip": "application/zip",
}
_FOREVER = {"cache-control": "private, max-age=31536000, immutable"}
_NOW = {"cache-control": "no-store"}
#: Files of the book's pages that belong to a stage begin like this.
_SECTION = "section-"
#: A number in an address has fewer digits.
_LONG = 6
#: The time that files in an archive bear: the same files give the same archive.
_ZIP_TIME = (1980, 1, 1, 0, 0, 0)


def routes(house: House) -> APIRouter:
    """Return the addresses of files."""
    router = APIRouter()

    @router.get("/job/{job}/get/{name}")
    async def get(job: str, name: str, request: Request) -> Response:
        try:
            data = await _file(house, await asyncio.to_thread(house.benches.open, job), name)
        except (StowrightError, OSError) as error:
            return PlainTextResponse(f"{error}\nGo back to the job and look there.", 409)
        shown = "inline" if request.query_params.get("show") else "attachment"
        file = f"{shown}; filename*=UTF-8''{quote(f'{job} {name}', safe='')}"
        kind = _TYPES.get(name.rpartition(".")[2], "application/octet-stream")
        return Response(data, media_type=kind, headers={"content-disposition": file})

    @router.get("/job/{job}/sheets/{stage}")
    async def sheets(job: str, stage: str) -> Response:
        try:
            bench = await asyncio.to_thread(house.benches.open, job)
            shown = await asyncio.to_thread(sheets_of, bench, house.made_of(bench, "pages"), stage)
        except StowrightError as error:
            return PlainTextResponse(str(error), 404)
        return HTMLResponse(shown)

    @router.get("/job/{job}/sheet/{page}")
    async def sheet(job: str, page: str, v: str = "") -> Response:
        try:
            made = house.made_of(await asyncio.to_thread(house.benches.open, job), "pages")
        except StowrightError:
            made = None
        if made is None or not 0 <= _number(page) < len(made.packed):
            return PlainTextResponse("no such page", 404)
        shown = await asyncio.to_thread(made.sheet, _number(page))
        headers = _FOREVER if v == sheets_key(made.text) else _NOW
        return Response(shown, media_type="image/svg+xml", headers=headers)

    @router.get("/job/{job}/picture/{name}")
    async def picture(job: str, name: str, v: str = "") -> Response:
        try:
            drawing, key = await asyncio.to_thread(_picture, house, job, name)
        except StowrightError as error:
            return PlainTextResponse(str(error), 404)
        # a picture that was replaced while it was asked for is not kept under the old one's key
        headers = _FOREVER if v == key else _NOW
        return Response(drawing, media_type="image/svg+xml", headers=headers)

    return router


async def _file(house: House, bench: Bench, name: str) -> bytes:
    """Return a file of a job as it stands.

    Raises:
        UnknownNameError: If no such file is made.
        StowrightError: As the work raises it.
    """
    if name == "job.toml":
        return bench.text.encode()
    if name == "changes.pdf" or name.startswith(_SECTION):
        return await _pages(house, bench, name)
    if name in {"book.pdf", "all.zip"}:
        kind: Kind = "book" if name == "book.pdf" else "files"
        task = house.task(bench, kind)
        made = await house.wait_for(bench, task, f"Making {name}")
        return bytes(made["book.pdf"]) if kind == "book" else _zipped(made, task.text)
    plan = await house.wait_for(bench, house.task(bench, "plan"), "The whole plan")
    if name == "plan.json":
        return json_text(plan_to_dict(plan)).encode()
    if name == "cutting.csv":
        return cutting_csv(plan.design.parts).encode()
    if name == "unit.glb":
        return to_glb(plan.design)
    raise UnknownNameError("file", name)


async def _pages(house: House, bench: Bench, name: str) -> bytes:
    """Return some of the book's pages: those that a reading changed, or a stage's own."""
    if name == "changes.pdf":
        found = await house.wait_for(bench, house.task(bench, "refit"), "The changed pages")
        if not found.sheet:
            raise UnknownNameError("file", name)
        return bytes(found.sheet)
    pages = await house.wait_for(bench, house.task(bench, "pages"), "The pages for printing")
    stage = name.removeprefix(_SECTION).removesuffix(".pdf")
    return await asyncio.to_thread(section_pdf, pages, stage)


def _picture(house: House, job: str, name: str) -> tuple[str, str]:
    """Return a picture with its letters, and the key that it has in the addresses of pages."""
    drawing, key = _keyed(house, house.benches.open(job), name)
    return by_itself(drawing), key


def _keyed(house: House, bench: Bench, name: str) -> tuple[str, str]:
    kind, _, which = name.partition("-")
    if kind == "packing":  # its key stands in its name
        return _packing(bench, which), ""
    if kind == "layout":
        return _layout(house, bench, which)
    drawing = _drawing(house, bench, kind, which)
    return drawing, model_key(drawing.encode())


def _layout(house: House, bench: Bench, which: str) -> tuple[str, str]:
    plan = house.shown_plan(bench)
    found = plan.cutting.layouts if plan is not None else ()
    layout = next((each for each in found if each.number == _number(which)), None)
    if plan is None or layout is None:
        raise UnknownNameError("picture", which)
    return layout_picture(plan, layout.number), picture_key(layout)


def _drawing(house: House, bench: Bench, kind: str, which: str) -> str:
    """Return a picture that was made by planning, searching or refitting."""
    found: str | None = None
    if kind == "step":
        found = house.shown_figures(bench).get(_number(which))
    elif kind == "changed":
        made = house.made_of(bench, "refit")
        found = made.pictures.get(which) if made is not None else None
    elif kind == "proposal":
        made = house.files.get(("proposals", bench.name))
        if made is not None and 0 <= _number(which) < len(made.rows):
            found = made.rows[_number(which)].picture
    elif kind == "part" and (plan := house.shown_plan(bench)) is not None:
        found = part_picture(plan, which)
    if found is None:
        raise UnknownNameError("picture", which)
    return str(found)


def _number(text: str) -> int:
    """Return a short number; -1 for everything else."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < _LONG else -1


def _packing(bench: Bench, which: str) -> str:
    """Return the plan of an opening of the very design that the page shows."""
    key, _, place = which.rpartition("-")
    for study in bench.settled_studies():
        if study.design is not None and packing_key(study.text) == key:
            return packing_picture(study.design, _number(place))
    raise UnknownNameError("picture", which)


def _zipped(files: dict[Any, Any], text: str) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in sorted({**files, "job.toml": text.encode()}.items()):
            archive.writestr(zipfile.ZipInfo(name, _ZIP_TIME), data)
    return packed.getvalue()
