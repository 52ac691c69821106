"""A job looked at while it is being written: what is known at once, mistakes included."""

from __future__ import annotations

import hashlib
import logging
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.errors import DesignError, JobError, Mistake, StowrightError

if TYPE_CHECKING:
    from stowright.app.planning import InUse
    from stowright.model.catalogue import Catalogue
    from stowright.model.design import Design
    from stowright.model.finding import Finding
    from stowright.model.job import Job

__all__ = ["Beside", "Refusal", "Study", "model_key", "study"]

#: Begins the findings in use of a job's text somewhere else; None when nobody is there.
type Beside = Callable[[str, Catalogue], InUse | None]

log = logging.getLogger("stowright.app")

_BROKE_OFF = "it broke off on this job, by a fault of its own; the job is saved"


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why no geometry serves a job."""

    about: str
    reason: str
    advice: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """What a job's text comes to.

    Attributes:
        text: The job file.
        job: The job; None when the file has mistakes.
        mistakes: The file's mistakes.
        design: The design; None when there is no job or no geometry serves it.
        refusal: Why there is no design.
        findings: What is proved about the design, worst first.
        settled: Whether the load was packed and the bolts were planned, which takes longer.
    """

    text: str
    job: Job | None = None
    mistakes: tuple[Mistake, ...] = ()
    design: Design | None = None
    refusal: Refusal | None = None
    findings: tuple[Finding, ...] = ()
    settled: bool = False

    @property
    def warnings(self) -> tuple[str, ...]:
        """What is odd, a line each."""
        job = self.job.warnings if self.job else ()
        design = self.design.warnings if self.design else ()
        return tuple(dict.fromkeys((*job, *design)))


def study(
    text: str,
    catalogue: Catalogue,
    *,
    settle: bool = False,
    beside: Beside | None = None,
    progress: Callable[[str], None] | None = None,
) -> Study:
    """Return what a job's text comes to; what is wrong with it is in the value.

    Args:
        text: The job file.
        catalogue: The shelf.
        settle: Pack the load and plan the bolts as the whole plan does; without it loads are
            shared out by volume and every carcass has the usual four bolts.
        beside: Takes half of the proofs at the same time, from the same text.
        progress: Told what is being done, the packing by stages and tenths.
    """
    from stowright.app.loading import load_job
    from stowright.app.planning import design_job, prove_design

    in_use = beside(text, catalogue) if beside is not None else None
    try:
        job = load_job(text.encode(), catalogue=catalogue)
    except JobError as error:
        return Study(text=text, mistakes=error.mistakes)
    try:
        design = design_job(job, catalogue=catalogue, settle=settle, progress=progress)
        findings = prove_design(design, catalogue=catalogue, in_use=in_use, advise=settle)
    except DesignError as error:
        refusal = Refusal(about=error.about, reason=error.reason, advice=error.advice)
        return Study(text=text, job=job, refusal=refusal)
    except StowrightError as error:
        refusal = Refusal(about="the job", reason=str(error), advice="")
        return Study(text=text, job=job, refusal=refusal)
    except Exception:
        log.exception("no design of this job:\n%s", text)
        refusal = Refusal(about="the program", reason=_BROKE_OFF, advice="take the change back")
        return Study(text=text, job=job, refusal=refusal)
    return Study(text=text, job=job, design=design, findings=findings, settled=settle)


def model_key(data: bytes) -> str:
    """Return the name of some bytes; other bytes have another name."""
    return hashlib.blake2b(data, digest_size=16).hexdigest()
