"""A plan looks longer where things are left out that would go in by themselves."""

from dataclasses import replace

from stowright.app.loading import load_catalogue, load_job
from stowright.explore import settle as room
from stowright.explore.packing import pack_carry
from stowright.explore.settle import settled
from stowright.model.packed import LeftOut

SHELF = load_catalogue()
JOB = """
[job]
title = "Field school, one drawer"
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 480
[[carry]]
what = "box"
size = [200, 150, 100]
mass = 1
quantity = 6
"""


def test_a_load_that_fits_at_once_is_not_packed_again(monkeypatch):
    calls = []

    def counted(design, **options):
        calls.append(options["longer"])
        return pack_carry(design, **options)

    monkeypatch.setattr(room, "pack_carry", counted)
    settled(load_job(JOB), SHELF)
    assert len(calls) == 1


def test_what_was_left_out_for_lack_of_patience_is_looked_for_again(monkeypatch):
    calls = []

    def hasty(design, **options):
        calls.append(options["longer"])
        load = pack_carry(design, **options)
        if len(calls) > 1:
            return load
        left = LeftOut(what="box", copies=1, why=f"{room.WOULD_FIT} drawer 1 empty")
        return replace(load, things=load.things[1:], left_out=(left,))

    monkeypatch.setattr(room, "pack_carry", hasty)
    design = settled(load_job(JOB), SHELF)
    assert len(calls) == 2
    assert calls[1] > calls[0]
    assert not design.packed.left_out
    calls.clear()
    assert settled(load_job(JOB), SHELF, patient=False).packed.left_out
