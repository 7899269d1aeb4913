"""Will it draft: what the engine says of each appliance, beside what the code says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fluewright.draft.assess import FANS_PA, WARM_EVENING_K, Assessment, Moved
from fluewright.draft.assess_tree import TreeAssessment
from fluewright.draft.from_survey import Modelled
from fluewright.drawing.draft_figures import BALANCE, MATTERS, label_words
from fluewright.drawing.draft_units import U_UNIT, input_words
from fluewright.drawing.draft_words import minutes_words, start_words
from fluewright.quantity import Style
from fluewright.report import draft_words as words
from fluewright.report import draft_words_tree as tree_words
from fluewright.report.inputs import DRAFT, Draft, Drafts
from fluewright.report.summary import HAZARD_LINES, STOP_LINES
from fluewright.report.tree import (
    Audience,
    Block,
    Cell,
    Column,
    Figure,
    Listing,
    Notice,
    Paragraph,
    Section,
    Table,
    Tone,
)
from fluewright.report.words import minus

MOST_MATTERS = 5
SHUT = "Shut the appliance"  # how what has to be done at once begins, for one or several
GAUGE = (BALANCE, MATTERS)  # figures for those who work with a draft gauge
COMPUTED_TITLE = "Computed, not measured"
SEEN_TITLE = "Seen in a test"
_HERE = "Worked out under “Will it draft”."
_NO_ANSWER = "Not computed: nobody can say from this survey whether it drafts."
_ASK = (
    "Until then only a test at the appliance can tell: a cold start with the house closed and its "
    "fans running, with smoke or a mirror at the draft hood."
)


def draft_sections(drafts: Drafts, audience: Audience) -> tuple[Section, ...]:
    """One section for all appliances, those that spill first; none where none was computed.

    Args:
        drafts: what the engine says of each appliance.
        audience: an owner is shown the figures that need no gauge to read.
    """
    if not drafts.each:
        return ()
    ordered = sorted(drafts.each, key=lambda one: (_gravity(one), one.appliance))
    after: tuple[Block, ...] = (
        *((Paragraph("What the code says of the size, worked out apart:"), Listing(drafts.code))
          if drafts.code else ()),
        Paragraph(words.APART),
        Notice(COMPUTED_TITLE, (words.COMPUTED, words.NO_PASS), Tone.CAUTION),
    )  # fmt: skip
    texts = [tuple(_blocks(one, drafts.style)) for one in ordered]
    plots = [tuple(_figures(one, audience)) for one in ordered]
    if len(ordered) == 1:
        blocks = (*texts[0], *after, *plots[0])
        return (Section("draft", "Will it draft", blocks),)
    parts = tuple(
        Section(f"draft-{n}", _name(one).capitalize(), (*text, *plot))
        for n, (one, text, plot) in enumerate(zip(ordered, texts, plots, strict=True), 1)
    )
    said = Listing(
        tuple(f"{_name(one).capitalize()}: {_short(one, drafts.style)}" for one in ordered)
    )
    return (Section("draft", "Will they draft", (said, *after), parts),)


def _short(one: Draft, style: Style) -> str:
    """The answer for an appliance in one sentence, signs of past spillage with it."""
    found = one.assessment
    if one.shared is not None:
        said = minus(tree_words.answer(one.shared, style))
    else:
        said = "not computed, see below." if found is None else minus(words.answer(found, style))
    return " ".join((*one.signs, said))


def draft_notices(drafts: Drafts) -> tuple[Notice, ...]:
    """What has to stand on the first page: appliances that spill by the computation."""
    found = []
    for one in drafts.each:
        told = _told(one)
        if not one.fails and not (one.assessment is None and told):
            continue
        lines = (*one.signs, *told, _HERE)
        stops = any(text.startswith(SHUT) for text in lines)
        seen = words.SAW_IT_SPILL in " ".join(one.signs)
        does = "spill" if one.shared is not None else "spills"
        title = f"{SEEN_TITLE if seen else COMPUTED_TITLE}: {_name(one)} "
        title += f"{does} into the room" if stops else "may spill into the room"
        found.append(Notice(title, lines, Tone.STOP if stops else Tone.OPEN))
    return tuple(found)


def _told(one: Draft) -> tuple[str, ...]:
    """The answer and what to do first; without an answer that only where it was seen to spill."""
    if one.shared is not None:
        return (tree_words.answer(one.shared), *tree_words.danger(one.shared))
    if one.assessment is None:
        do = words.unanswered(one.signs)
        return (_NO_ANSWER, do) if do.startswith(SHUT) else ()
    return (words.answer(one.assessment), *words.danger(one.assessment))


def _gravity(one: Draft) -> int:
    told = _told(one)
    if not told:
        return 2
    return 0 if any(text.startswith(SHUT) for text in told) else 1 if len(told) > 1 else 3


def _name(one: Draft) -> str:
    return one.appliance.replace("_", " ")


def _blocks(one: Draft, style: Style) -> Iterator[Block]:
    """All that is said of one appliance, danger first."""
    found, model = one.assessment, one.modelled
    if one.signs:
        yield Notice("Seen at the appliance", one.signs, Tone.HAZARD)
    if one.shared is not None:
        yield from _shared(one, one.shared, style)
        return
    if found is None or model is None:
        yield from _no_answer(one, style)
        return
    yield from _answer(found, style)
    yield _operating(found, style)
    yield _suctions(found, style)
    told = (start_words(found), *_wet(found))
    yield Listing(tuple(minus(text) for text in told))
    yield Paragraph("What alone would make it spill:")
    yield Listing(tuple(minus(text) for text in words.alone(found, style)))
    if found.moved:
        yield _matters(found.moved, style)
    yield from _reckoned(model, style)


def _shared(one: Draft, found: TreeAssessment, style: Style) -> Iterator[Block]:
    """A vent that several appliances share: danger first, every combination, what it is made of."""
    said, danger = minus(tree_words.answer(found, style)), tree_words.danger(found)
    if any(text.startswith(SHUT) for text in danger):
        yield Notice(said, STOP_LINES, Tone.STOP)
    elif danger:
        yield Notice(said, (*danger, HAZARD_LINES[-1]), Tone.HAZARD)
    else:
        yield Paragraph(said, Tone.LEAD)
    told = (*tree_words.hot(found, style), *tree_words.starts(found), *tree_words.matters(found))
    yield Listing(tuple(minus(text) for text in told))
    yield Paragraph("What it was reckoned with, and what is not in it:")
    yield Listing(tuple(minus(text) for text in one.reckoned))


def _figures(one: Draft, audience: Audience) -> Iterator[Block]:
    """The figures, with what each shows for those who do not see it."""
    for name, drawn in one.figures.items():
        if audience is Audience.OWNER and name in GAUGE:
            continue
        caption = f"{_name(one).capitalize()}: {drawn.title[:1].lower()}{drawn.title[1:]}."
        yield Figure(f"{DRAFT}{one.appliance}/{name}", f"{caption} Computed.", drawn.alt)
    if one.no_figures:
        yield Paragraph(f"Figures that could not be drawn: {one.no_figures}")


def _no_answer(one: Draft, style: Style) -> Iterator[Block]:
    """Why the engine says nothing, and what to measure for it."""
    do = words.unanswered(one.signs)
    yield Notice(_NO_ANSWER, (do, _ASK), Tone.STOP if do.startswith(SHUT) else Tone.OPEN)
    yield Paragraph("What is missing for an answer:")
    yield Listing(one.gaps or (one.reason,))
    if one.modelled is not None:
        yield from _reckoned(one.modelled, style)


def _answer(found: Assessment, style: Style) -> Iterator[Block]:
    """The answer; what to do stands with it where gas comes into the room."""
    said = minus(words.answer(found, style))
    danger = words.danger(found)
    if words.SHUT_OFF in danger:
        yield Notice(said, STOP_LINES, Tone.STOP)
    elif danger:
        yield Notice(said, (*danger, HAZARD_LINES[-1]), Tone.HAZARD)
    else:
        yield Paragraph(said, Tone.LEAD)
    if seen := words.first(found.doubts):
        yield Listing(tuple(minus(text) for text in seen))


def _table(caption: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Table:
    """A table of text; all columns but the first hold numbers."""
    columns = tuple(Column(head, numeric=n > 0) for n, head in enumerate(heads))
    return Table(caption, columns, tuple(tuple(Cell(minus(c)) for c in row) for row in rows))


def _operating(found: Assessment, style: Style) -> Table:
    """What it is like once hot."""
    at = found.solved.at
    flow = at.root.flow_kg_s
    shown = f"{3600.0 * flow / 0.45359237:.0f} lb/h" if style == "us" else f"{1000 * flow:.1f} g/s"
    wet = {True: "yes, even hot", False: "no, once hot", None: "not known"}[at.wet]
    rows = [
        ("Flow up the vent", shown if flow > 0.0 else f"none: {at.root.branch}"),
        ("Flue gas that goes into the room", f"{100.0 * at.spilled:.0f} %"),
        ("Room air drawn in at the hood, for 1 of flue gas", f"{at.dilution:.1f}"),
        ("Draft at the start of the connector", words.pressure(-at.draft_pa, style)),
        ("Gas there", words.temperature(at.gas_k, style)),
        ("Carbon dioxide in the vent, dry", f"{100.0 * at.co2_dry:.1f} %"),
        ("Dew point there", "no water" if at.dew_k is None
         else words.temperature(at.dew_k, style)),
        ("Walls wet", wet),
    ]  # fmt: skip
    return _table("Once hot", ("", "Computed"), rows)


def _suctions(found: Assessment, style: Style) -> Table:
    """How far it is from spilling, and the suctions it withstands."""
    margin = found.solved.margin_pa
    rows = [
        ("To spare once hot" if margin >= 0.0 else "Lacking once hot",
         words.pressure(abs(margin), style)),
        ("To spare, all that is not known at its worst",
         words.pressure(found.margin_low_pa, style)),
        ("To spare, all of it at its best", words.pressure(found.margin_high_pa, style)),
    ]  # fmt: skip
    if (limits := found.thresholds) is not None:
        minutes = minutes_words(limits.within_s)
        held = (
            ("idle, before outdoor air comes down", limits.standing_pa),
            (f"from cold, to take over within {minutes}", limits.establishing_pa),
            ("once hot", limits.hot_pa),
        )
        rows += [(f"Suction it withstands {how}", _withstood(pa, style)) for how, pa in held]
    if found.warm is not None:
        evening = words.temperature(WARM_EVENING_K, style)
        rows.append((f"Suction it withstands from cold at {evening} outdoors",
                     _withstood(found.warm.establishing_pa, style)))  # fmt: skip
    if found.thresholds is not None:
        usual = "Suction that field practice lets fans reach, water heater alone on its vent"
        rows.append((usual, words.pressure(FANS_PA, style)))
    return _table("How far from spilling", ("", "Computed"), rows)


def _withstood(suction_pa: float | None, style: Style) -> str:
    if suction_pa is None or suction_pa <= 0.0:
        return "none"
    return words.pressure(suction_pa, style)


def _wet(found: Assessment) -> tuple[str, ...]:
    if found.start is None or not found.start.wet_s > 0.0:
        return ()
    wet, ran = minutes_words(found.start.wet_s), minutes_words(found.start.at_s[-1])
    return (f"Walls are wet for {wet} of the first {ran}.",)


def _matters(moved: Sequence[Moved], style: Style) -> Table:
    """The inputs that move the margin most."""
    strongest = moved[:MOST_MATTERS]
    rows = [
        (
            label_words(one).capitalize() if label_words(one).islower() else label_words(one),
            f"{input_words(one.name, one.low, one.unit, style)} to "
            f"{input_words(one.name, one.high, one.unit, style)}",
            f"{one.at_low_pa:.1f} to {one.at_high_pa:.1f} Pa",
        )
        for one in strongest
    ]
    caption = "What matters most"
    if any(one.unit == "W/(m2 K)" for one in strongest):
        caption += f" (U: heat loss in {U_UNIT[style]})"
    return _table(caption, ("Input", "Taken from", "To spare"), rows)


def _reckoned(model: Modelled, style: Style) -> Iterator[Block]:
    """Weather, house, what was assumed and what is left out."""
    yield Paragraph("What it was reckoned with, and what is not in it:")
    yield Listing(tuple(minus(text) for text in words.reckoned_with(model, style)))
