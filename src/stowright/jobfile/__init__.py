"""The job file: TOML to model values and back, mistakes, schema, starters, saving."""

from __future__ import annotations

from stowright.jobfile.dumping import dump_job
from stowright.jobfile.known import KEPT_MATERIALS, KEPT_RULES, KnownNames
from stowright.jobfile.oddities import NOT_YET_USED
from stowright.jobfile.reading import FORMAT, load_job, read_job
from stowright.jobfile.saving import read_ahead, save_edits, write_job_file
from stowright.jobfile.schema import job_schema
from stowright.jobfile.starters import (
    STARTER_KINDS,
    bare_starter,
    starter,
    starter_answers,
)

__all__ = [
    "FORMAT",
    "KEPT_MATERIALS",
    "KEPT_RULES",
    "NOT_YET_USED",
    "STARTER_KINDS",
    "KnownNames",
    "bare_starter",
    "dump_job",
    "job_schema",
    "load_job",
    "read_ahead",
    "read_job",
    "save_edits",
    "starter",
    "starter_answers",
    "write_job_file",
]
