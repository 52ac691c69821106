"""The general arrangement of each block on framed sheets with title blocks (ISO 7200)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.drawings.general_arrangement import general_arrangement
from stowright.drawings.scene import Scene
from stowright.drawings.sheet_frame import Paper, TitleBlock, drawing_room, framed
from stowright.errors import OutOfRangeError
from stowright.model.design import Design
from stowright.units import Unit

__all__ = ["Issue", "arrangement_sheets"]

#: An arrangement fills its sheet: so much less of it, for the frame's centring marks. [mm]
_MARKS = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """What every title block of a job says.

    Attributes:
        owner: Legal owner.
        title: Title of the job.
        job: The job's fingerprint, part of each drawing's number.
        revision, date: As the caller gives them; empty for none.
    """

    owner: str
    title: str
    job: str = ""
    revision: str = ""
    date: str = ""

    def block(
        self, *, number: str, more: str, kind: str, sheet: int = 1, sheets: int = 1
    ) -> TitleBlock:
        """Return the title block of one drawing."""
        return TitleBlock(
            owner=self.owner,
            number=f"{self.job}-{number}" if self.job else number,
            title=self.title,
            more=more,
            issued=self.date,
            creator="stowright",
            approval="",
            document_type=kind,
            sheet=sheet,
            sheets=sheets,
            revision=self.revision,
        )


def arrangement_sheets(
    design: Design,
    *,
    projection: Literal["first", "third"],
    paper: Paper,
    units: Unit,
    issue: Issue,
) -> tuple[Scene, ...]:
    """Return a framed sheet for each block; a block that fits no scale on the sheet has none.

    Args:
        design: The design.
        projection: First or third angle.
        paper: The sheet.
        units: Unit of print.
        issue: What the title blocks say.
    """
    width, height = drawing_room(paper)
    room = (width - _MARKS, height - _MARKS)
    drawn = []
    for block in design.blocks:
        try:
            scene = general_arrangement(
                design,
                projection=projection,
                units=units,
                block=block.name,
                room=room,
            )
        except OutOfRangeError:
            continue
        drawn.append(scene)
    return tuple(
        framed(
            scene,
            paper=paper,
            units=units,
            block=issue.block(
                number=f"GA{n}",
                more=scene.title,
                kind="general arrangement",
                sheet=n,
                sheets=len(drawn),
            ),
        )
        for n, scene in enumerate(drawn, start=1)
    )
