"""Survey and edition to judgement: every rule for every thing it is asked of."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import replace

from fluewright.applies import applied, marked_as_built, may_stay
from fluewright.asked import Asked, Library
from fluewright.edition import Edition
from fluewright.facts import FactValue, Scope, View, shared_subjects, subjects
from fluewright.finding import (
    CLOSE,
    IN_THE_AIR,
    Comparison,
    EditionInfo,
    Finding,
    Grade,
    Judgement,
    MeasureNext,
    NotExamined,
    Verdict,
)
from fluewright.joining import is_out
from fluewright.quantity import Dimension, Measured, Style, show_difference
from fluewright.reach import look_again, of_survey
from fluewright.rules import RULES, Rule
from fluewright.rules.logic import Outcome, Truth
from fluewright.rules.place import place_of
from fluewright.sharing import said_once
from fluewright.source import Basis, Citation, Step
from fluewright.survey import Path, Survey
from fluewright.words import METRIC_UNITS, filled, in_words

Subjects = Mapping[Scope, Sequence[tuple[str, View]]]
RANK = {grade: place for place, grade in enumerate(Grade)}
WEIGHT = {
    Grade.STOP: 16,
    Grade.HAZARD: 8,
    Grade.DEFECT: 4,
    Grade.CRAFT: 2,
    Grade.NOTE: 1,
}
ORDER = {
    Verdict.FAILS: 0,
    Verdict.CANNOT_TELL: 1,
    Verdict.MEETS: 2,
    Verdict.NOT_APPLICABLE: 3,
}
CAUTIONS = (
    "This names what was examined against one edition of one code. It is not an approval: the "
    "adopted local code, the listing and the maker's instructions, and the authority having "
    "jurisdiction decide. Repairs are for licensed people where the law says so.",
    "If anyone feels ill, or a carbon monoxide alarm sounds: leave at once, call the emergency "
    "number from outside, and do not go back in until you are told.",
)
STOP_CAUTION = (
    "Shut the appliance off now, open windows and doors, leave the house, and call from outside: "
    "the gas company or a licensed contractor. Nobody turns it on again until it is repaired and "
    "tested."
)
LEAVE_CAUTION = (
    "Everybody leaves now. Touch no switch, plug or phone inside, and leave doors open. Shut the "
    "gas or the appliance off only where that is on the way out. Call the gas company or the "
    "emergency number from outside. Nobody goes back in or turns it on until it is repaired and "
    "tested."
)
INVENTED_CAUTION = "This survey is an invented example. It describes no real place."
MEMORY_CAUTION = (
    "Places and numbers marked 'from memory' were not seen in the text of this edition: verify "
    "them in the adopted code before relying on them."
)
EXISTING_CAUTION = (
    "The survey does not say what is being done (inspection, replacement, new, repair). Work "
    "that was lawful when it was built may be judged by an older text: ask the authority."
)


def judge(
    survey: Survey,
    edition: Edition,
    library: Library,
    survey_sha256: str = "",
    style: Style = "us",
    built: Edition | None = None,
) -> Judgement:
    """Every requirement of the edition that this version knows, for everything surveyed.

    Args:
        survey: what was seen.
        edition: the code edition to judge by.
        library: tool tolerances and capacity tables.
        survey_sha256: hash of the survey's bytes, carried into the result.
        style: units of sentences and numbers; verdicts do not depend on it.
        built: the edition in force when it was built, where the job names one that is held.
    Returns:
        Findings, gravest first and numbered; what nobody examined; what to measure next.
    """
    findings, notes = _found(survey, edition, library, style)
    if built is not None and may_stay(survey, edition, built):
        older, _ = _found(survey, built, library, style)
        findings = marked_as_built(findings, older, built)
    ordered = _numbered(sorted(findings, key=_gravity), survey)
    absent = [
        NotExamined(RULES[rule].title, f"absent in {edition.title}: {entry.absent}")
        for rule, entry in edition.requirements.items()
        if entry.absent
    ]
    return Judgement(
        survey.job.title,
        survey_sha256,
        EditionInfo(edition.id, edition.title, edition.sha256),
        tuple(ordered),
        (*absent, *(NotExamined(at, why) for _, at, why in edition.unexamined)),
        _next_steps(ordered),
        _cautions(survey, ordered),
        tuple(notes),
        applied(survey, edition, built),
    )


def _found(
    survey: Survey, edition: Edition, library: Library, style: Style
) -> tuple[list[Finding], list[str]]:
    """Every finding by one edition, and what cannot all be so or is not judged."""
    notes = list(of_survey(survey))
    by_path: list[tuple[Path, list[Finding]]] = []
    for path in _paths(survey):
        things = subjects(survey, path)
        ((_, view),) = things[Scope.PATH]
        by_path.append((path, _judge_path(things, edition, library, style)))
        notes += look_again(survey, view.path, view.trace)
    return [*said_once(by_path), *_judge_shared(survey, edition, library, style)], notes


def _paths(survey: Survey) -> tuple[Path, ...]:
    """The paths to judge: of every appliance that is still there, described or not."""
    told = {path.from_ for path in survey.paths}
    silent = tuple(Path(from_=name) for name in survey.appliances if name not in told)
    return tuple(p for p in (*survey.paths, *silent) if not is_out(survey, p))


def _judge_path(
    things: Subjects, edition: Edition, library: Library, style: Style
) -> list[Finding]:
    of_path: dict[str, FactValue] = {}
    contexts = {
        scope: [
            Asked(name, view, edition, library, _name(scope, view), style, of_path=of_path)
            for name, view in found
        ]
        for scope, found in things.items()
    }
    return _asked_of(contexts, edition)


def _judge_shared(
    survey: Survey, edition: Edition, library: Library, style: Style
) -> list[Finding]:
    """What belongs to no single path: common vents, spaces, openings, the house."""
    contexts = {
        scope: [
            Asked(name, view, edition, library, _name(scope, view), style) for name, view in found
        ]
        for scope, found in shared_subjects(survey).items()
    }
    return _asked_of(contexts, edition)


def _asked_of(contexts: Mapping[Scope, list[Asked]], edition: Edition) -> list[Finding]:
    return [
        judge_one(rule, ctx, edition)
        for rule in RULES.values()
        if not edition.requirements[rule.id].absent
        for ctx in contexts.get(rule.per, ())
    ]


def _name(scope: Scope, view: View) -> str:
    """What sentences call a thing: the appliance by its kind, a piece by its id."""
    if scope is Scope.COMMON:
        return f"the common vent {view.common}"
    if scope is not Scope.PATH:
        return ""
    return f"the {view.appliance.kind or 'appliance'}"


def judge_one(rule: Rule, ctx: Asked, edition: Edition) -> Finding:
    """The answer to one requirement for one thing."""
    cites = edition.requirements[rule.id].cites
    gate, outcome = ctx.judged(rule)
    if gate is Truth.NO:
        sentence = rule.not_asked or "Not asked here."
        if "{" in sentence:  # few name the thing, and most findings end here
            sentence = sentence.format(name=ctx.name or ctx.subject)
        return Finding(
            rule.id,
            rule.title,
            ctx.subject,
            Verdict.NOT_APPLICABLE,
            rule.grade,
            _capital(sentence),
            None,
            cites,
        )
    if gate is Truth.UNKNOWN:
        return _open(rule, ctx, Outcome(Truth.UNKNOWN, missing=outcome.missing), cites)
    if outcome.truth is Truth.UNKNOWN:
        return _open(rule, ctx, outcome, cites)
    met = outcome.truth is Truth.YES
    found = _deciding(outcome.comparisons, ctx.style)
    places = () if met else outcome.places
    template = rule.meets if met else rule.fails
    words = in_words(found, ctx.style)
    sentence = filled(template, ctx.name or ctx.subject, words, places)
    if not sentence:
        sentence = f"{rule.title}: {'so' if met else 'not so'}{_because(outcome)}."
    elif not met and found is None and rule.is_manifold:
        sentence = f"{sentence.removesuffix('.')}{_because(outcome)}."
    return Finding(
        rule.id,
        rule.title,
        places[0] if len(places) == 1 else ctx.subject,
        Verdict.MEETS if met else Verdict.FAILS,
        rule.grade,
        _capital(sentence),
        found,
        cites,
        (),
        () if met else (rule.remedy,),
        _working(outcome, found, words, ctx.style),
    )


def _open(rule: Rule, ctx: Asked, outcome: Outcome, cites: tuple[Citation, ...]) -> Finding:
    straddling = [
        c for c in outcome.comparisons if c.margin.low < -CLOSE and c.margin.high >= -CLOSE
    ]
    found = _deciding(tuple(straddling), ctx.style)
    words = in_words(found, ctx.style)
    missing = _distinct(outcome.missing)
    if found is not None:
        sentence = (
            f"{rule.title}: not known yet. {_capital(found.label or 'reading')} "
            f"{words['measured']}, limit {words['limit']}: the tolerance reaches across the limit."
        )
    else:
        names = ", ".join(dict.fromkeys(m.label for m in missing)) or "what decides it"
        sentence = f"{rule.title}: not known yet. Still open: {names}."
    return Finding(
        rule.id,
        rule.title,
        ctx.subject,
        Verdict.CANNOT_TELL,
        rule.grade,
        sentence,
        found,
        cites,
        missing,
        (),
        _working(outcome, found, words, ctx.style),
    )


def _deciding(comparisons: tuple[Comparison, ...], style: Style) -> Comparison | None:
    """The comparison with the least margin against its limit, in the units asked for."""
    if not comparisons:
        return None
    found = comparisons[0]
    if len(comparisons) > 1:
        found = min(comparisons, key=lambda c: c.margin.value / (abs(c.limit.value) or 1.0))
    if style == "us":
        return found
    return found._replace(limit=found.limit._replace(unit=METRIC_UNITS[found.dimension]))


def _because(outcome: Outcome) -> str:
    said_ = dict.fromkeys(s.what for s in outcome.steps if s.value is None)
    return f" ({'; '.join(said_)})" if said_ else ""


def _working(
    outcome: Outcome, found: Comparison | None, words: Mapping[str, str], style: Style
) -> tuple[Step, ...]:
    steps = outcome.steps
    if found is not None:
        steps += (
            Step(f"{found.label or 'reading'}: {words['measured']}"),
            Step(f"limit: {words['limit']}"),
            Step(f"margin: {_signed(found.margin, words['gap'], style)}"),
        )
    return steps


def _signed(margin: Measured, size: str, style: Style) -> str:
    sign = "-" if margin.value < -CLOSE else "+" if margin.value > CLOSE else ""
    text = f"{sign}{size}"
    if margin.tolerance <= 1e-12:
        return text
    if margin.dimension is Dimension.COUNT:
        return f"{text} ± {margin.tolerance:g}"
    return f"{text} ± {show_difference(margin.tolerance, margin.dimension, style)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:] if text[:1].islower() else text


def _distinct(missing: Iterable[MeasureNext]) -> tuple[MeasureNext, ...]:
    found: dict[tuple[str, str], MeasureNext] = {}
    for item in missing:
        found.setdefault((item.label, item.subject), item)
    return tuple(found.values())


def _gravity(finding: Finding) -> tuple[int, int, bool]:
    """Danger in the very air of the house leads what is equally grave."""
    return ORDER[finding.verdict], RANK[finding.grade], finding.rule not in IN_THE_AIR


def _numbered(findings: list[Finding], survey: Survey) -> list[Finding]:
    """Number what fails, and what was measured and yet is open: these get a mark and photos."""
    numbered: list[Finding] = []
    pieces = survey.every_piece()
    named = {piece.id for piece in pieces} | {"connector", "vent"}
    caps = {piece.id for piece in pieces if piece.part == "cap"}
    count = 0
    for item in findings:
        marked = item.verdict is Verdict.FAILS or (
            item.verdict is Verdict.CANNOT_TELL and item.comparison is not None
        )
        if marked:
            count += 1
            place = _place(item, named)
            photos = _photos_of(item.subject, place, caps, survey)
            item = replace(item, number=count, place=place, photos=photos)
        numbered.append(item)
    return numbered


def _place(finding: Finding, named: Set[str]) -> str:
    """Where to look for a finding: the piece it names, else the part that its rule looks at."""
    if finding.subject in named:
        return finding.subject
    if finding.subject.startswith(("intake", "roof", "door", "window", "inlet")):
        return "cap"
    return place_of(finding.rule)


def _photos_of(subject: str, place: str, caps: Set[str], survey: Survey) -> tuple[str, ...]:
    """Photos of the very thing: its piece, the cap, or the appliance; never of another part."""
    things: Set[str] = {place}
    if place == "appliance":
        things = {subject}
    elif place == "cap":
        things = caps
    return tuple(photo.file for photo in survey.photos if photo.of in things)


def _next_steps(
    findings: list[Finding],
) -> tuple[tuple[MeasureNext, tuple[str, ...]], ...]:
    """What to learn next, by how much it would settle: graver requirements weigh more.

    One question about several pieces is one line that names them all.
    """
    weight: dict[tuple[str, ...], float] = {}
    first: dict[tuple[str, ...], MeasureNext] = {}
    asked_of: dict[tuple[str, ...], dict[str, None]] = {}
    helped: dict[tuple[str, ...], dict[str, None]] = {}
    for finding in findings:
        if finding.verdict is not Verdict.CANNOT_TELL or not finding.measure_next:
            continue
        share = WEIGHT[finding.grade] / len(finding.measure_next)
        for item in finding.measure_next:
            key = (item.label, item.how, item.tool)
            first.setdefault(key, item)
            weight[key] = weight.get(key, 0.0) + share
            asked_of.setdefault(key, {})[item.subject] = None
            helped.setdefault(key, {})[finding.rule] = None
    keys = sorted(first, key=lambda k: -weight[k])
    return tuple(
        (replace(first[k], subject=", ".join(asked_of[k])), tuple(helped[k])) for k in keys
    )


def _cautions(survey: Survey, findings: list[Finding]) -> tuple[str, ...]:
    cautions: list[str] = []
    fails = [f for f in findings if f.verdict is Verdict.FAILS]
    if any(f.rule in IN_THE_AIR for f in fails):
        cautions.append(LEAVE_CAUTION)
    elif any(f.grade is Grade.STOP for f in fails):
        cautions.append(STOP_CAUTION)
    cautions += CAUTIONS
    if survey.job.doing is None:
        cautions.append(EXISTING_CAUTION)
    if any(c.basis is Basis.MEMORY for f in findings for c in f.cites):
        cautions.append(MEMORY_CAUTION)
    if survey.job.invented:
        cautions.append(INVENTED_CAUTION)
    return tuple(cautions)
