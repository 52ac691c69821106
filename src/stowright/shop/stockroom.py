"""The rack: whole sheets and offcuts that a shop has, what a job takes and what comes back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import astuple, dataclass, replace
from typing import TYPE_CHECKING

from stowright.errors import UnknownNameError

if TYPE_CHECKING:
    from sqlite3 import Connection

    from stowright.model.layout import CuttingPlan
    from stowright.shop.records import Records

__all__ = ["ON_RACK", "Draw", "Rack", "Stockroom", "draw_of"]

#: Before the id of a sheet from the rack, where a job has sheets of its own too.
ON_RACK = "rack "

_ALL = "select * from stock order by material, offcut, length * width desc, id"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rack:
    """Sheets of one size on the rack.

    Attributes:
        id: Short name, written on the sheet: ``S3``, an offcut's ``R7``.
        material: Its material.
        length: Along the face grain. [mm]
        width: Across it. [mm]
        copies: How many there are.
        price: What one is worth to the shop; None when nobody said.
        offcut: Whether it is an offcut.
        came_from: The job that it is left over from; empty for a whole sheet.
    """

    id: str
    material: str
    length: float
    width: float
    copies: int = 1
    price: float | None = None
    offcut: bool = False
    came_from: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """What a job's cutting takes from the rack and puts back.

    Attributes:
        taken: Id and how many.
        back: Offcuts that go onto the rack, without an id yet.
    """

    taken: tuple[tuple[str, int], ...]
    back: tuple[Rack, ...]


class Stockroom:
    """The rack of a jobs folder."""

    def __init__(self, records: Records) -> None:
        self._records = records

    def rows(self) -> tuple[Rack, ...]:
        """Return what is on the rack: by material, whole sheets first, the largest first."""
        return tuple(_rack(row) for row in self._records.rows(_ALL))

    def put(self, sheets: Iterable[Rack]) -> tuple[Rack, ...]:
        """Put sheets on the rack and return them with their ids.

        Whole sheets that are alike in everything are counted together.
        """
        with self._changing() as base:
            return tuple(_put(base, sheet) for sheet in sheets)

    def take(self, id_: str, copies: int = 1) -> None:
        """Take sheets off the rack.

        Raises:
            UnknownNameError: If there is no such sheet, or not so many.
        """
        with self._changing() as base:
            _take(base, id_, copies)

    def draw(self, draw: Draw) -> tuple[Rack, ...]:
        """Take off the rack what a job used, put its offcuts on, and return those with their ids.

        Raises:
            UnknownNameError: If the rack no longer holds what the job was laid out on; nothing is
                changed then.
        """
        with self._changing() as base:
            for id_, copies in draw.taken:
                _take(base, id_, copies)
            return tuple(_put(base, sheet) for sheet in draw.back)

    @contextmanager
    def _changing(self) -> Iterator[Connection]:
        """Hold the base from the first look on, so that two programs never take one sheet."""
        with self._records.writing() as base:
            base.execute("begin immediate")
            yield base


def _put(base: Connection, sheet: Rack) -> Rack:
    held = None if sheet.offcut else _alike(base, sheet)
    if held is not None:
        new = replace(held, copies=held.copies + sheet.copies)
        base.execute("update stock set copies = ? where id = ?", (new.copies, new.id))
        return new
    new = replace(sheet, id=_free_id(base, offcut=sheet.offcut))
    base.execute("insert into stock values (?, ?, ?, ?, ?, ?, ?, ?)", astuple(new))
    return new


def _take(base: Connection, id_: str, copies: int) -> None:
    held = {row.id: row.copies for row in _held(base)}
    if id_ not in held:
        raise UnknownNameError("sheet on the rack", id_, tuple(held)[:12])
    if not 1 <= copies <= held[id_]:
        found = f"{copies} of {id_}"
        raise UnknownNameError("sheet on the rack", found, (f"1 to {held[id_]} of {id_}",))
    left = held[id_] - copies
    base.execute("update stock set copies = ? where id = ?", (left, id_))
    base.execute("delete from stock where copies = 0")


def _alike(base: Connection, sheet: Rack) -> Rack | None:
    asked = replace(sheet, id="", copies=1)
    return next((row for row in _held(base) if replace(row, id="", copies=1) == asked), None)


def _free_id(base: Connection, *, offcut: bool) -> str:
    """Return an id that was never used: it is written on the sheet."""
    what = "last offcut" if offcut else "last sheet"
    row = base.execute("select value from note where job = '' and what = ?", (what,)).fetchone()
    number = int(row[0] if row else 0) + 1
    base.execute("insert or replace into note values ('', ?, ?)", (what, str(number)))
    return f"{'R' if offcut else 'S'}{number}"


def _held(base: Connection) -> tuple[Rack, ...]:
    return tuple(_rack(row) for row in base.execute(_ALL))


def draw_of(cutting: CuttingPlan, *, job: str, credit: float, prices: Mapping[str, float]) -> Draw:
    """Return what a cutting plan takes from the rack and what offcuts it leaves.

    Args:
        cutting: Laid out on the rack's sheets, their ids behind ``ON_RACK``, and what is bought.
        job: Name of the job, written on its offcuts.
        credit: Share of its sheet's price that an offcut is worth, by area.
        prices: What a sheet costs, by its id in the cutting plan.
    """
    uses = {(use.sheet, use.material): use for use in cutting.stock}
    back = []
    for layout in cutting.layouts:
        use = uses[layout.sheet, layout.material]
        price = prices.get(use.sheet)
        for offcut in layout.offcuts:
            if offcut.keep:
                share = offcut.along * offcut.across / (use.length * use.width)
                piece = Rack(
                    id="",
                    material=use.material,
                    length=offcut.along,
                    width=offcut.across,
                    price=None if price is None else round(price * share * credit, 2),
                    offcut=True,
                    came_from=f"{job}, {offcut.name}",
                )
                back += [piece] * layout.copies
    taken = tuple(
        (use.sheet.removeprefix(ON_RACK), use.used)
        for use in cutting.stock
        if use.used and use.sheet.startswith(ON_RACK)
    )
    return Draw(taken=taken, back=tuple(back))


def _rack(row: tuple[object, ...]) -> Rack:
    id_, material, length, width, copies, price, offcut, came_from = row
    return Rack(
        id=str(id_),
        material=str(material),
        length=float(str(length)),
        width=float(str(width)),
        copies=int(str(copies)),
        price=None if price is None else float(str(price)),
        offcut=bool(offcut),
        came_from=str(came_from),
    )
