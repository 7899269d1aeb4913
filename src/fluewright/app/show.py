"""Use cases that only show: editions, the explanation of a rule, a question of the tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, cast

from fluewright import app, capacity
from fluewright.errors import BadQuantity, NoSuchRule
from fluewright.quantity import Dimension, Measured, parse
from fluewright.rules import RULES
from fluewright.rules.answers import is_asked
from fluewright.source import Basis, Step
from fluewright.words import reading


def editions_data(id: str | None) -> list[dict[str, object]]:
    """Every edition, or one with what it judges, leaves out and does not examine."""
    ids = app.edition_ids() if id is None else (id,)
    return [_edition_data(name, id is not None) for name in ids]


def _edition_data(name: str, whole: bool) -> dict[str, object]:
    one = app.edition(name)
    judged = [r for r, entry in one.requirements.items() if not entry.absent]
    asked = [r for r in judged if is_asked(RULES[r])]
    bases = Counter(one.requirements[r].cites[0].basis.value for r in judged)
    data: dict[str, object] = {
        "id": one.id,
        "title": one.title,
        "sha256": one.sha256,
        "judged": len(judged) - len(asked),
        "asked": len(asked),
        "basis": dict(sorted(bases.items())),
        "absent": len(one.requirements) - len(judged),
        "not_examined": len(one.unexamined),
    }
    if whole:
        data["requirements"] = [
            {
                "rule": rule,
                "title": RULES[rule].title,
                "grade": RULES[rule].grade.value,
                "how": "absent" if entry.absent else "asked" if rule in asked else "judged",
                "absent": entry.absent or None,
                "cites": [c.text() for c in entry.cites],
            }
            for rule, entry in one.requirements.items()
        ]
        data["unexamined"] = [{"at": at, "why": why} for _, at, why in one.unexamined]
    return data


def editions_text(data: Sequence[Mapping[str, object]]) -> str:
    """The same for reading."""
    lines: list[str] = []
    for one in data:
        basis = ", ".join(f"{n} {b}" for b, n in cast("dict[str, int]", one["basis"]).items())
        lines.append(f"{one['id']:<12} {one['title']}")
        lines.append(
            f"{'':<12} {one['judged']} requirements judged, {one['asked']} asked of a person or "
            f"paper ({basis}), {one['absent']} absent in it, {one['not_examined']} not examined"
        )
        for row in cast("list[dict[str, Any]]", one.get("requirements", [])):
            where = f"absent: {row['absent']}" if row["absent"] else "; ".join(row["cites"])
            where = f"asked: {where}" if row["how"] == "asked" else where
            lines.append(f"  {row['rule']:<50} {row['grade']:<7} {where}")
        unexamined = cast("list[dict[str, str]]", one.get("unexamined", []))
        if unexamined:
            lines.append("  not examined:")
        lines += [f"  - {row['at']} ({row['why']})" for row in unexamined]
    return "\n".join(lines) + "\n"


def _rule(id: str) -> str:
    if id in RULES:
        return id
    import difflib

    near = difflib.get_close_matches(id, RULES, n=3, cutoff=0.5)
    near = near or [rule for rule in RULES if len(id) > 2 and id.lower() in rule][:5]
    hint = f" Did you mean {', '.join(near)}?" if near else ""
    raise NoSuchRule(f'"{id}" is no rule of this program.{hint} fluewright editions ID lists all.')


def explain_text(id: str, editions: Sequence[str]) -> str:
    """What a rule asks, why, how to measure it, its limits side by side, the remedy."""
    from fluewright import explain

    rule = _rule(id)
    chosen = [app.edition(e) for e in (editions or app.edition_ids())]
    return explain.explain_text(explain.explanation(RULES[rule], app.prose()[rule], chosen))


def explain_data(id: str, editions: Sequence[str]) -> dict[str, object]:
    """The same as data."""
    from fluewright import explain

    rule = _rule(id)
    chosen = [app.edition(e) for e in (editions or app.edition_ids())]
    return explain.explain_json(explain.explanation(RULES[rule], app.prose()[rule], chosen))


def capacity_answer(options: Mapping[str, Any]) -> capacity.CapacityAnswer:
    """The answer to a question asked in words, by the tables or by the model.

    Raises:
        BadQuantity: an option is not a quantity; says which.
    """
    app.edition(options["edition"])  # a clear error where it is not known
    query = capacity.Query(
        vent=options["vent"],
        connector=options["connector"],
        burner=options["burner"],
        height=_required(options, "height", Dimension.LENGTH),
        lateral=_required(options, "lateral", Dimension.LENGTH),
        diameter=_required(options, "diameter", Dimension.LENGTH),
        edition=options["edition"],
        connector_diameter=_optional(options, "connector_diameter", Dimension.LENGTH),
        flue_area=_optional(options, "flue_area", Dimension.AREA),
        extra_elbows=tuple(options["extra_elbows"]),
        outlet=_optional(options, "outlet", Dimension.LENGTH),
        liner=options["liner"],
        rise=_optional(options, "rise", Dimension.LENGTH),
        shared=options["shared"],
        manifold=_optional(options, "manifold", Dimension.LENGTH),
    )
    groups = (group.name for group in capacity.groups_for(query))
    answer = capacity.capacity_query(app.tables_with(*groups), query)
    if options["method"] != "model":
        return answer
    from fluewright.app.by_model import capacity_by_model  # physics that the tables never need

    return capacity_by_model(query, answer)


def _optional(options: Mapping[str, Any], name: str, dimension: Dimension) -> Measured | None:
    return None if options.get(name) is None else _required(options, name, dimension)


def _required(options: Mapping[str, Any], name: str, dimension: Dimension) -> Measured:
    try:
        got = parse(options[name], dimension)
    except BadQuantity as error:
        raise BadQuantity(f"--{name.replace('_', '-')}: {error}") from None
    if got.value < 0:
        raise BadQuantity(
            f'--{name.replace("_", "-")}: "{options[name]}" is below zero. Write zero or more.'
        )
    return Measured(got.value, dimension, got.tolerance or 0.0)


MODEL_CAUTION = (
    "This is an engineering estimate of the model, no figure of any code and no approval. Only the "
    "authority having jurisdiction can accept one in place of a table."
)
CAPACITY_CAUTIONS = (
    "This is the figure of a table, for a vent that was measured right and is sound: no approval, "
    "and no test of draft. A vent of a permitted size can still spill.",
    "Check it against the adopted code, the listing and the maker's instructions before relying "
    "on it; the authority having jurisdiction decides.",
)


def capacity_data(answer: capacity.CapacityAnswer) -> dict[str, object]:
    """The answer as data, with its cautions; its basis is the weakest that it stands on."""
    remembered = _is_remembered(answer) and answer.basis is not Basis.MODEL
    basis = Basis.MEMORY if remembered else answer.basis
    cautions = list(_capacity_cautions(answer))
    return {**answer.as_json(), "basis": basis.value, "cautions": cautions}


def _is_remembered(answer: capacity.CapacityAnswer) -> bool:
    """Whether a place in this edition's text is known from memory alone."""
    return any(cite.basis is Basis.MEMORY for cite in answer.cites)


def _capacity_cautions(answer: capacity.CapacityAnswer) -> tuple[str, ...]:
    if answer.max is None:
        return CAPACITY_CAUTIONS[1:]
    if answer.basis is Basis.MODEL:
        return (MODEL_CAUTION, *CAPACITY_CAUTIONS[1:])
    return CAPACITY_CAUTIONS


def capacity_text(answer: capacity.CapacityAnswer) -> str:
    """The answer for reading, with its working."""
    lines: list[str] = []
    if answer.reason is not None or answer.max is None:
        lines.append(f"No figure: {answer.reason}")
    else:
        estimate = answer.basis is Basis.MODEL
        head = "Estimate of the most input it carries" if estimate else "Most input permitted"
        lines.append(f"{head}: {reading(answer.max)}")
        if answer.min is not None and answer.min.high > 0:
            lines.append(f"Least input permitted: {reading(answer.min)}")
    if answer.table is not None and answer.basis is not Basis.MODEL:
        known = "read" if answer.basis is Basis.READ else "not confirmed by a second source: verify"
        if _is_remembered(answer):
            known += ", but not in the text of this edition: verify"
        lines.append(f"Table {answer.table}; its figures {known}")
    lines += [f"  {cite.text()}" for cite in answer.cites]
    lines += [f"  - {step.what}{_number(step)}" for step in answer.working]
    lines += _capacity_cautions(answer)
    return "\n".join(lines) + "\n"


def _number(step: Step) -> str:
    """The number of a step; one without a unit is what the maximum is multiplied by."""
    if step.value is None:
        return ""
    return f" {step.value:,.6g} {step.unit}" if step.unit else f": times {step.value:.6g}"
