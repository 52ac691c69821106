"""What ties every printed page to one job: its fingerprint, a revision and a date when given."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256

from stowright.model.job import Job

__all__ = ["Stamp", "stamp_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What a page says about the state of the job.

    Attributes:
        job: The job's fingerprint: eight hexadecimal digits that change when the job does.
        revision: As the caller gives it; empty for none.
        date: As the caller gives it; nothing here knows the date.
    """

    job: str
    revision: str = ""
    date: str = ""

    @property
    def text(self) -> str:
        """Return it as one line: ``job 3f9a1c2b · revision B · 2026-03-01``."""
        rows = [f"job {self.job}"]
        rows += [f"revision {self.revision}"] if self.revision else []
        rows += [self.date] if self.date else []
        return " · ".join(rows)


def stamp_of(job: Job, *, revision: str = "", date: str = "") -> Stamp:
    """Return the stamp of a job. Two print-outs with one fingerprint come from the same job.

    It is taken from the values that were read, so that remarks and the order of keys do not count.
    """
    return Stamp(job=sha256(repr(job).encode()).hexdigest()[:8], revision=revision, date=date)
