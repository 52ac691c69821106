"""A small cabinet job that several tests cut up."""

import pytest

from stowright.model.layout import CutPart, SawSettings, StockSheet


@pytest.fixture
def parts():
    return (
        CutPart(mark="A1", length=760, width=390, quantity=4, material="ply-15", grain=True),
        CutPart(mark="A2", length=890, width=390.5, quantity=3, material="ply-15"),
        CutPart(mark="A3", length=1200, width=90, quantity=5, material="ply-15", grain=True),
        CutPart(mark="B1", length=455, width=180, quantity=8, material="ply-15", release="B"),
        CutPart(mark="B2", length=420, width=415, quantity=2, material="ply-12", release="B"),
    )


@pytest.fixture
def stock():
    return (
        StockSheet(id="S15", material="ply-15", length=2440, width=1220),
        StockSheet(id="S12", material="ply-12", length=2440, width=1220),
    )


@pytest.fixture
def saw():
    return SawSettings(kerf=3.2, trim=10)
