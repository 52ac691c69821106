"""One small sound job and a way to change it, for the proofs of use."""

from functools import cache
from pathlib import Path

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.jobfile import read_job
from stowright.proofs.use import use_findings

__all__ = ["CATALOGUE", "SOUND", "changed", "designed", "findings"]

CATALOGUE = load_catalogue()
SOUND = (Path(__file__).parent / "mistakes" / "00-sound.toml").read_text(encoding="utf-8")


def changed(*pairs, more=""):
    """Return the sound job with texts replaced and more put at its end."""
    text = SOUND
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return text + more


@cache
def designed(text):
    return design(read_job(text), CATALOGUE)


@cache
def findings(text, builds=0):
    """Return the findings of use of a job by id."""
    found = tuple(use_findings(designed(text), CATALOGUE, builds=builds))
    assert len({each.id for each in found}) == len(found)
    return {each.id: each for each in found}
