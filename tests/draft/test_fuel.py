"""Fuels as data: what is refused, and that what ships stands."""

from __future__ import annotations

import copy
import tomllib
from importlib.resources import files
from typing import Any

import pytest

from fluewright.draft.fuel import SPECIES, Fuel, fuels_from
from fluewright.errors import OutOfRange
from fluewright.files.physics import default_fuels

ENTRY: dict[str, Any] = {
    "title": "mine",
    "parts": {"CH4": 0.9, "N2": 0.1},
    "source": "a gas supplier's certificate",
    "basis": "read",
}


def test_fuels_that_ship_are_those_of_the_file() -> None:
    path = files("fluewright") / "data" / "physics" / "fuels.toml"
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert fuels_from(data) == default_fuels()
    assert {"natural_gas", "lp"} <= default_fuels().keys()


def test_a_composition_of_ones_own_is_read() -> None:
    (mine,) = fuels_from({"fuel": {"mine": ENTRY}}).values()
    assert mine == Fuel(name="mine", parts=(("CH4", 0.9), ("N2", 0.1)), source=ENTRY["source"])
    assert mine.hhv_j_kmol == pytest.approx(0.9 * SPECIES["CH4"].hhv_j_kmol, rel=1e-15)
    assert mine.latent == pytest.approx(default_fuels()["methane"].latent, rel=1e-12)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"source": " "}, "fuel mine: source is empty"),
        ({"title": ""}, "fuel mine: title is empty"),
        ({"basis": "heard"}, "basis 'heard'"),
        ({"extra": 1}, "fuel mine: has basis, extra, parts"),
        ({"source": None}, "source is empty"),
        ({"parts": [1]}, "parts must be species"),
        ({"parts": {"CH4": "most"}}, "CH4 is 'most'; write a mole fraction"),
        ({"parts": {"CH4": True}}, "CH4 is True; write a mole fraction"),
        ({"parts": {"CH4": 0.9}}, "add up to 0.9; they must give 1"),
        ({"parts": {"CH4": 1.1, "N2": -0.1}}, "CH4 is 1.1; it lies from 0 to 1"),
        ({"parts": {"CH4": float("nan")}}, "CH4 is nan; it lies from 0 to 1"),
        ({"parts": {"C8H18": 1.0}}, "unknown species C8H18; known are CH4"),
        ({"parts": {"N2": 1.0}}, "nothing in it burns"),
        ({"parts": {"CH4": 0.1, "O2": 0.9}}, "nothing in it burns"),
    ],
)
def test_a_faulty_entry_is_refused(change: dict[str, Any], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        fuels_from({"fuel": {"mine": {**copy.deepcopy(ENTRY), **change}}})


@pytest.mark.parametrize("key", ENTRY)
def test_an_entry_without_one_of_its_keys_is_refused(key: str) -> None:
    short = {name: value for name, value in ENTRY.items() if name != key}
    with pytest.raises(OutOfRange, match="it needs basis, parts, source, title"):
        fuels_from({"fuel": {"mine": short}})


@pytest.mark.parametrize("data", [{}, {"fuel": {}}, {"fuel": 1}, {"fuel": {"a": ENTRY}, "x": 1}])
def test_a_file_of_anything_else_is_refused(data: dict[str, object]) -> None:
    with pytest.raises(OutOfRange, match="and nothing else"):
        fuels_from(data)


def test_a_species_listed_twice_is_refused() -> None:
    with pytest.raises(OutOfRange, match="listed twice"):
        Fuel(name="x", parts=(("CH4", 0.5), ("CH4", 0.5)), source="-")
