"""A plan looks longer where things are left out that would go in by themselves."""

from stowright.app.loading import load_catalogue, load_job
from stowright.explore import settle as room
from stowright.explore.packing import pack_carry
from stowright.explore.settle import settled

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


def asked_for(monkeypatch, **options):
    """The settled design of the job, and how long each packing was asked to look."""
    calls = []

    def counted(design, **asked):
        calls.append(asked["longer"])
        return pack_carry(design, **asked)

    monkeypatch.setattr(room, "pack_carry", counted)
    return settled(load_job(JOB), SHELF, **options), calls


def test_a_load_is_packed_once_and_looked_for_longer_where_things_are_left_out(monkeypatch):
    design, calls = asked_for(monkeypatch)
    assert calls == [None]  # as long as suits the number of things
    assert not design.packed.left_out


def test_who_has_no_patience_takes_the_first_packings(monkeypatch):
    _, calls = asked_for(monkeypatch, patient=False)
    assert calls == [0]
