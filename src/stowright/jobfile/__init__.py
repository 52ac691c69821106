"""The job file: TOML to model values and back, mistakes, schema."""

from __future__ import annotations

from stowright.jobfile.known import KEPT_MATERIALS, KEPT_RULES, KnownNames
from stowright.jobfile.reading import FORMAT, load_job, read_job

__all__ = ["FORMAT", "KEPT_MATERIALS", "KEPT_RULES", "KnownNames", "load_job", "read_job"]
