"""Invented jobs for the proofs of structure: one tub with one block, and what is put in it."""

from functools import cache

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.jobfile import read_job
from stowright.proofs.index import index_of
from stowright.proofs.structure import structure_findings

CATALOGUE = load_catalogue()
BAY = """
[job]
title = "Structure cases"
rules = "{rules}"
road = "{road}"
{job}
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 500
clear_height = 900
between = [ {{at = 700, height = 0, width = 1100}} ]
arches = [ {{side = "left", start = 400, end = 1100, height = 230, reach = 150}},
           {{side = "right", start = 400, end = 1100, height = 230, reach = 150}} ]
[[bay.opening]]
face = "tail"
width = 1330
"""
TAILGATE = """
[bay.tailgate]
hinge = "down"
length = 520
open_top = -15
"""
CARRY = """
[[carry]]
what = "case"
size = [{length}, {width}, 150]
mass = {mass}
goes_in = "one"
"""
BLOCK = """
[[block]]
name = "drawers"
columns = [ {{stack = [ {{fill = "{fill}", name = "one"{more}}} ]}},
            {{stack = [ {{fill = "drawer", name = "two"}} ]}} ]
"""
DECK = """
[[deck]]
over = ["drawers"]
"""


def job_text(
    *,
    mass=20,
    footprint=(400, 300),
    fill="drawer",
    more="",
    build="",
    deck=True,
    rules="light-envelope",
    road="sealed",
    tailgate=True,
    carry=True,
    job="",
):
    """Return a job file; ``more`` goes into the first opening's table, ``build`` into [build]."""
    text = BAY.format(rules=rules, road=road, job=job)
    text += TAILGATE if tailgate else ""
    if carry:
        text += CARRY.format(mass=mass, length=footprint[0], width=footprint[1])
    text += BLOCK.format(fill=fill, more=f", {more}" if more else "")
    text += DECK if deck else ""
    return text + f"[build]\n{build}\n"


@cache
def designed(text):
    """Return the design of a job file; each text once."""
    return design(read_job(text), CATALOGUE)


@cache
def indexed(text):
    """Return the index of a job file's design."""
    return index_of(designed(text), CATALOGUE)


@cache
def found_in(text):
    """Return the structure's findings by code."""
    return {found.id: found for found in structure_findings(designed(text), CATALOGUE)}


def findings(**wishes):
    """Return the structure's findings of an invented job, by code."""
    return found_in(job_text(**wishes))
