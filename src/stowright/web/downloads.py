"""Files of a job by their address: what is made on demand, what is looked at in pages."""

from __future__ import annotations

import asyncio
import io
import zipfile
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from fastapi import APIRouter, Request
from fastapi.responses import PlainTextResponse, Response

from stowright.app.cutting_csv import cutting_csv
from stowright.app.pictures import layout_picture, part_picture
from stowright.app.plain import json_text
from stowright.app.plan_dict import plan_to_dict
from stowright.drawings.glb import to_glb
from stowright.errors import StowrightError, UnknownNameError

if TYPE_CHECKING:
    from stowright.app.bench import Bench
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
#: The time that files in an archive bear: the same files give the same archive.
_ZIP_TIME = (1980, 1, 1, 0, 0, 0)


def routes(house: House) -> APIRouter:
    """Return the addresses of files."""
    router = APIRouter()

    @router.get("/job/{job}/get/{name}")
    async def get(job: str, name: str, request: Request) -> Response:
        try:
            data = await _file(house, house.benches.open(job), name)
        except (StowrightError, OSError) as error:
            return PlainTextResponse(f"{error}\nGo back to the job and look there.", 409)
        shown = "inline" if request.query_params.get("show") else "attachment"
        file = f"{shown}; filename*=UTF-8''{quote(f'{job} {name}', safe='')}"
        kind = _TYPES.get(name.rpartition(".")[2], "application/octet-stream")
        return Response(data, media_type=kind, headers={"content-disposition": file})

    @router.get("/job/{job}/picture/{name}")
    async def picture(job: str, name: str) -> Response:
        try:
            drawing = await asyncio.to_thread(_picture, house, house.benches.open(job), name)
        except StowrightError as error:
            return PlainTextResponse(str(error), 404)
        return Response(drawing, media_type="image/svg+xml", headers=_FOREVER)

    return router


async def _file(house: House, bench: Bench, name: str) -> bytes:
    """Return a file of a job as it stands.

    Raises:
        UnknownNameError: If no such file is made.
        StowrightError: As the work raises it.
    """
    if name == "job.toml":
        return bench.text.encode()
    if name in {"book.pdf", "all.zip"}:
        kind = "book" if name == "book.pdf" else "files"
        made = await house.wait_for(bench, house.task(bench, kind), f"Making {name}")
        return bytes(made["book.pdf"]) if kind == "book" else _zipped(made, bench.text)
    plan = await house.wait_for(bench, house.task(bench, "plan"), "The whole plan")
    if name == "plan.json":
        return json_text(plan_to_dict(plan)).encode()
    if name == "cutting.csv":
        return cutting_csv(plan.design.parts).encode()
    if name == "unit.glb":
        return to_glb(plan.design)
    raise UnknownNameError("file", name)


def _picture(house: House, bench: Bench, name: str) -> str:
    kind, _, which = name.partition("-")
    if kind == "proposal" and which.isdigit():
        found = house.files.get(("proposals", bench.name))
        if found is not None and int(which) < len(found.rows):
            return str(found.rows[int(which)].picture)
    plan = house.shown_plan(bench)
    if plan is None:
        raise UnknownNameError("picture", name)
    if kind == "layout" and which.isdigit():
        return layout_picture(plan, int(which))
    if kind == "part":
        return part_picture(plan, which)
    if kind == "step" and which.isdigit():
        found = house.shown_figures(bench).get(int(which))
        if found is not None:
            return str(found)
    raise UnknownNameError("picture", name)


def _zipped(files: dict[Any, Any], text: str) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in sorted({**files, "job.toml": text.encode()}.items()):
            archive.writestr(zipfile.ZipInfo(name, _ZIP_TIME), data)
    return packed.getvalue()
