"""What the draft engine found, as plain data for JSON: quantities with value, unit, tolerance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, is_dataclass
from typing import Any

from fluewright.draft.assess import Assessment
from fluewright.draft.exposure import CAUTIONS as CO_CAUTIONS
from fluewright.draft.exposure import Exposure, Series
from fluewright.draft.from_survey import Modelled
from fluewright.draft.from_survey_tree import ModelledTree
from fluewright.draft.solve import Operating, Root
from fluewright.draft.spilled_co import SpilledCo
from fluewright.draft.warmup import Warmup
from fluewright.draft.weather import NOT_PUBLISHED
from fluewright.render.draft_text import Drafted, InYear, SharedDraft
from fluewright.report import draft_weather_words as weather_words
from fluewright.report import draft_words as words
from fluewright.report import draft_words_tree as tree_words


def drafted_data(
    head: Mapping[str, object],
    found: Sequence[Drafted],
    code: Sequence[str],
    shared: Sequence[SharedDraft] = (),
) -> dict[str, object]:
    """All appliances as the command line prints them.

    Args:
        head: version, survey and the like.
        found: one entry an appliance.
        code: what the code says of the size.
        shared: one entry a vent that several appliances share.
    """
    return {
        **head,
        "appliances": [_one(one) for one in found],
        "shared": [_shared(one) for one in shared],
        "code": list(code),
        "cautions": list(words.CAUTIONS),
    }


def _shared(vent: SharedDraft) -> dict[str, object]:
    found, model = vent.assessment, vent.modelled
    data: dict[str, object] = {
        "common": vent.common,
        "appliances": list(vent.appliances),
        "answer": None if found is None else tree_words.answer(found),
        "do_first": [] if found is None else list(tree_words.danger(found)),
        "fails": found is None or found.fails,
        "reason": vent.reason or None,
        "signs": list(vent.signs),
        "measure_next": list(vent.gaps),
    }
    if found is not None and model is not None:
        data["combinations"] = [
            {"burning": list(one.burning), "word": one.word, "reason": one.reason or None,
             "margin": {"value": one.margin_pa, "unit": "Pa", "low": one.margin_low_pa,
                        "high": one.margin_high_pa}}
            for one in found.combinations
        ]  # fmt: skip
        data["words"] = list(tree_words.words(found, model))
        data |= _inputs(model)
    return data


def _one(one: Drafted) -> dict[str, object]:
    found, model = one.assessment, one.modelled
    data: dict[str, object] = {
        "appliance": one.appliance,
        "answer": None if found is None else words.answer(found),
        "hot": None if found is None else found.hot,
        "hot_by_the_figures_alone": None if found is None else found.computed,
        "doubts": None if found is None else plain(found.doubts),
        "fails": found is None or found.fails,
        "do_first": [words.unanswered(one.signs)] if found is None else list(words.danger(found)),
        "reason": one.reason or None,
        "signs": list(one.signs),
        "measure_next": list(one.gaps),
    }
    if model is not None:
        data |= _inputs(model)
    if found is not None:
        data |= _found(found)
    data["ensemble"] = plain(one.outcome)
    data["year"] = None if one.year is None else _year(one.year)
    data["no_year"] = one.no_year or None
    data["co"] = _co(one.co, one.co_note) if one.co else None
    data["no_co"] = one.no_co or None
    return data


def _year(one: InYear) -> dict[str, object]:
    """The hours of a year, each count from low to high."""
    station = one.weather.year.station
    return {
        "station": plain(station),
        "label": NOT_PUBLISHED,
        "missing": dict(one.weather.year.missing),
        "terrain": one.weather.terrain,
        "unit": "h/year",
        **plain(one.found),
        "caution": weather_words.CAUTION,
    }


MOST_MOMENTS = 120  # of a curve, in JSON


def _co(scenarios: Sequence[SpilledCo], note: str) -> dict[str, object]:
    """Exposures of the scenarios, both ends, cautions first."""
    return {
        "heed_first": list(CO_CAUTIONS),
        "note": note,
        "scenarios": [
            {
                "name": one.name,
                "what": one.what,
                "reason": one.reason or None,
                "grave": None if one.found is None else _exposure(one.found.high),
                "mild": None if one.found is None else _exposure(one.found.low),
            }
            for one in scenarios
        ],
    }


def _exposure(one: Exposure) -> dict[str, object]:
    step = -(-len(one.times_s) // MOST_MOMENTS)
    keep = sorted({*range(0, len(one.times_s), step), len(one.times_s) - 1})
    return {
        "times": {"unit": "s", "values": [one.times_s[n] for n in keep]},
        "room": [_series(one.rooms[one.breathed], keep)],
        "blood": [_series(each, keep) for each in one.blood],
        "alarm": plain(one.alarm),
        "reached": [plain(each) for each in one.reached],
        "room_levels": plain(one.room_lines),
        "assumptions": list(one.assumptions),
    }


def _series(one: Series, keep: Sequence[int]) -> dict[str, object]:
    return {
        "label": one.label,
        "unit": one.unit,
        "highest": one.highest,
        "values": [one.values[n] for n in keep],
    }


def _inputs(model: Modelled | ModelledTree) -> dict[str, object]:
    inputs = [
        {"name": i.name, "label": i.label, "value": i.value, "low": i.low, "high": i.high,
         "unit": i.unit, "origin": i.origin}
        for i in model.inputs
    ]  # fmt: skip
    return {
        "inputs": inputs,
        "assumed": [one.text for one in model.assumed],
        "not_modelled": list(model.not_modelled),
    }


def _found(found: Assessment) -> dict[str, object]:
    margin = found.solved.margin_pa
    return {
        "margin": {
            "value": margin,
            "unit": "Pa",
            "low": found.margin_low_pa,
            "high": found.margin_high_pa,
        },
        "roots": [_root(root) for root in found.solved.roots],
        "operating": _operating(found.solved.at),
        "moved_by": [plain(one) for one in found.moved],
        "limits": plain(found.limits),
        "start": None if found.start is None else _start(found.start),
        "withstands": plain(found.thresholds),
        "withstands_warm": plain(found.warm),
    }


def _root(root: Root) -> dict[str, object]:
    return {
        "flow": {"value": root.flow_kg_s, "unit": "kg/s", "tolerance": 0.0},
        "branch": root.branch,
        "stable": root.stable,
        "residual": {"value": root.residual_pa, "unit": "Pa", "tolerance": 0.0},
    }


def _operating(at: Operating) -> dict[str, object]:
    return {
        "branch": at.root.branch,
        "flow": {"value": at.root.flow_kg_s, "unit": "kg/s", "tolerance": 0.0},
        "dilution": plain(at.dilution),
        "spilled": at.spilled,
        "draft": {"value": at.draft_pa, "unit": "Pa", "tolerance": 0.0},
        "gas": {"value": at.gas_k, "unit": "K", "tolerance": 0.0},
        "co2_dry": at.co2_dry,
        "dew_point": None
        if at.dew_k is None
        else {"value": at.dew_k, "unit": "K", "tolerance": 0.0},
        "wet": at.wet,
        "stations": [plain(one) for one in at.stations],
        "mass_error": at.mass_error,
        "energy_error": at.energy_error,
    }


def _start(one: Warmup) -> dict[str, object]:
    return {
        "idle_flow": {"value": one.idle_kg_s, "unit": "kg/s", "tolerance": 0.0},
        "spills": None
        if one.spills_s is None
        else {"value": one.spills_s, "unit": "s", "tolerance": 0.0},
        "establishes": one.establishes,
        "flue_seconds": one.flue_s,
        "wet_seconds": one.wet_s,
    }


def plain(thing: object) -> Any:
    """Data classes as dictionaries; what JSON has no number for becomes null."""
    if is_dataclass(thing) and not isinstance(thing, type):
        return plain(asdict(thing))
    if isinstance(thing, Mapping):
        return {str(key): plain(value) for key, value in thing.items()}
    if isinstance(thing, list | tuple):
        return [plain(one) for one in thing]
    if isinstance(thing, float) and not abs(thing) < float("inf"):
        return None
    return thing
