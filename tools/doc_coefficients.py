"""docs/coefficients.md, from the data of the draft engine."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path

from tools.markdown import MADE, table

from fluewright.draft.bases import CodeBasis
from fluewright.draft.coefficients import COEFFICIENT_BASES, SPREADS, Coefficient, Curve
from fluewright.files.physics import code_bases, coefficients, house_coefficients

FUELS = Path(__file__).parents[1] / "src" / "fluewright" / "data" / "physics" / "fuels.toml"
HEAD = f"""# Coefficients of the draft engine

{MADE}

What the [engine](draft-physics.md) assumes where nothing was measured on the job, from
`data/physics/`. What a survey measures replaces it. Small textbook constants stand in the modules
with their source beside them. *Range* is what is plausible, not what is possible; *drawn* says how
an ensemble draws between its ends. Not every row enters `fluewright draft`; its `--json` lists
those that did. The others serve Python callers, the house model, comparisons and checks.
"""
BASIS_WORDS = {
    "read": "seen in the source's own text",
    "abstract": "seen in its summary",
    "secondary": "seen in a page that quotes the source",
    "practice": "trade practice, no measurement",
    "memory": "recalled, to be verified",
    "derived": "worked out from others by our own arithmetic",
    "fitted": "to a table of the codes",
    "assumed": "no source",
}
SPREAD_WORDS = {
    "fixed": "not at all",
    "uniform": "any value as often",
    "triangular": "its peak at the value",
    "loguniform": "any ratio as often",
}
NUMBERS = ("name", "value", "range", "unit", "drawn", "basis", "source")
CURVES = ("name", "points", "times", "unit", "drawn", "basis", "source")
BASIS_ROWS = {
    "title": "stands for",
    "burner": "burner",
    "co2_dry": "carbon dioxide, dry [mol/mol]",
    "kg_per_mj": "vent gas per heat, HHV [kg/MJ]",
    "gas_k": "gas where it enters [K]",
    "air_k": "air everywhere [K]",
    "molar_kg_kmol": "molar mass [kg/kmol]",
    "cp_j_kgk": "heat capacity [J/(kg K)]",
    "entrance_loss": "loss of the entrance [-]",
    "elbow_90_loss": "loss of a 90 degree elbow [-]",
    "cap_loss": "loss of the cap besides the exit head [-]",
    "darcy": "friction factor, Darcy, constant [-]",
    "roughness_m": "roughness [m]",
    "momentum": "momentum term",
}


def coefficients_page() -> str:
    """Every coefficient with value, range, unit, basis and source."""
    lines = [HEAD, *table(("basis", "how it is known"), _words(COEFFICIENT_BASES, BASIS_WORDS)), ""]
    lines += [*table(("drawn", "how"), _words(SPREADS, SPREAD_WORDS)), ""]
    for title, found in (
        ("Vent, appliance and surroundings", coefficients()),
        ("House and wind", house_coefficients()),
    ):
        lines += [f"## {title}", ""]
        lines += table(NUMBERS, (_number(one) for one in found.numbers.values()))
        if found.curves:
            lines += ["", "Curves, straight lines between their points; *times* bounds a factor on"
                      " the whole curve.", ""]  # fmt: skip
            lines += table(CURVES, (_curve(one) for one in found.curves.values()))
        lines += [""]
    lines += ["## Bases of the capacity model", "", *_bases(code_bases()), "", "## Fuels", ""]
    lines += _fuels()
    return "\n".join([*lines, ""])


def _words(names: tuple[str, ...], words: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    return ((f"`{name}`", words[name]) for name in names)


def _number(one: Coefficient) -> tuple[str, ...]:
    span = "" if one.low == one.high else f"{one.low:g} to {one.high:g}"
    return f"`{one.name}`", f"{one.value:g}", span, one.unit, one.spread, one.basis, _source(one)


def _curve(one: Curve) -> tuple[str, ...]:
    points = ", ".join(f"{x:g}: {y:g}" for x, y in one.points)
    span = "" if one.low == one.high else f"{one.low:g} to {one.high:g}"
    points = f"{points} (by {one.x_unit})" if one.x_unit != "1" else points
    return f"`{one.name}`", points, span, one.unit, one.spread, one.basis, _source(one)


def _source(one: Coefficient | Curve) -> str:
    return f"{one.source}. *{one.note}*" if one.note else one.source


def _bases(found: Mapping[str, CodeBasis]) -> Iterator[str]:
    """One column a basis; what was fitted is marked."""
    yield "Each stands alone and answers for the tables of its kind. A star marks what was fitted."
    yield ""
    rows = [
        (words, *(_figure(basis, field) for basis in found.values()))
        for field, words in BASIS_ROWS.items()
    ]
    for wall in next(iter(found.values())).u_w_m2k:
        rows.append(
            (
                f"heat loss, {wall.replace('_', ' ')} [W/(m2 K)]",
                *(_starred(b, f"u_w_m2k.{wall}", f"{b.u_w_m2k[wall]:g}") for b in found.values()),
            )
        )
    rows.append(("fitted on", *(basis.fitted_on for basis in found.values())))
    rows.append(("sources", *("; ".join(basis.sources) for basis in found.values())))
    yield from table(("", *(f"`{name}`" for name in found)), rows)


def _figure(basis: CodeBasis, field: str) -> str:
    value = getattr(basis, field)
    if isinstance(value, bool):
        return "counted" if value else "left out"
    if isinstance(value, str):
        return value.replace("_", " ")
    return "" if field in ("darcy", "roughness_m") and not value else _starred(
        basis, field, f"{value:.6g}"
    )  # fmt: skip


def _starred(basis: CodeBasis, field: str, text: str) -> str:
    return f"{text} \\*" if field in basis.fitted else text


def _fuels() -> Iterator[str]:
    data = tomllib.loads(FUELS.read_text(encoding="utf-8"))["fuel"]
    yield from table(
        ("fuel", "mole fractions", "basis", "source"),
        (
            (
                entry["title"],
                ", ".join(f"{name} {share:g}" for name, share in entry["parts"].items()),
                entry["basis"],
                entry["source"],
            )
            for entry in data.values()
        ),
    )
