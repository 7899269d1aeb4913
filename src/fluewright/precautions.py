"""Before going up or taking apart: what the survey gives cause to say. Common practice.

None of this is a code text; it is what careful people do (common practice, no source). It says
more rather than less where the survey is silent.
"""

from __future__ import annotations

from fluewright.frozen import frozen
from fluewright.quantity import Measured
from fluewright.survey import Path, Survey

# Pitches above which a roof is not walked, and coverings that break, slide or crack with age.
STEEP = 6 / 12
VERY_STEEP = 8 / 12
BRITTLE = ("concrete tile", "clay tile", "slate", "fiber cement")
SLIPPERY = ("metal", "wood shake")
OLD_S = 20 * 365.25 * 86400
YEAR_S = 365.25 * 86400
MAY_HOLD_ASBESTOS = ("fiber cement",)

DO_INSTEAD = (
    "Look from a secured ladder at the eave, with a camera on a pole, with binoculars from the "
    "ground, or from the attic; or have a roofer with fall protection go up."
)


@frozen
class Advice:
    """One matter: whether to do it, why, and what to do instead."""

    matter: str
    say: str
    reasons: tuple[str, ...]


def before_going_up(survey: Survey, path: Path) -> tuple[Advice, ...]:
    """Advice on roof, ladder, attic and taking the vent apart, most restrictive first.

    Source: common practice, no source.

    Args:
        survey: the whole survey.
        path: the path whose roof and pieces are meant.
    Returns:
        One piece of advice per matter; the roof always comes first.
    """
    advice = [_roof(path), _ladder(), _apart(path)]
    if _touches(survey, path, "attic"):
        advice.append(_attic())
    if _may_hold_asbestos(path):
        advice.append(_asbestos())
    return tuple(advice)


def lines(advice: tuple[Advice, ...]) -> tuple[str, ...]:
    """The advice as sentences, one line a matter."""
    return tuple(
        f"{item.matter}: {item.say}" + (f" ({'; '.join(item.reasons)})" if item.reasons else "")
        for item in advice
    )


def _roof(path: Path) -> Advice:
    """Walk it or not: any one reason is enough not to, and a silent survey is a reason."""
    never, unknown = _roof_reasons(path)
    if never:
        say = f"Do not walk this roof. {DO_INSTEAD}"
    elif unknown:
        say = f"Do not walk this roof until this is known. {DO_INSTEAD}"
    else:
        say = (
            "It may be walked by someone used to roofs, dry, in soft shoes, with fall protection "
            "as the law asks, and not alone."
        )
    return Advice("Roof", say, tuple(never + unknown))


def _roof_reasons(path: Path) -> tuple[list[str], list[str]]:
    roof, never, unknown = path.roof, [], []
    if not isinstance(roof.pitch, Measured):
        unknown.append("its pitch is not recorded")
    elif roof.pitch.high > STEEP:
        grade = "very steep" if roof.pitch.value > VERY_STEEP else "steep"
        never.append(f"it is {grade}: {roof.pitch.value * 12:.3g}/12")
    if roof.covering is None:
        unknown.append("its covering is not recorded")
    elif roof.covering in BRITTLE:
        never.append(f"{roof.covering} breaks underfoot")
    elif roof.covering in SLIPPERY:
        never.append(f"{roof.covering} is slippery")
    if isinstance(roof.age, Measured):
        if roof.age.value > OLD_S:
            never.append(f"the covering is about {roof.age.value / YEAR_S:.0f} years old")
    else:
        unknown.append("its age is not recorded")
    if roof.wet_or_iced is True:
        never.append("it is wet or iced")
    return never, unknown


def _ladder() -> Advice:
    return Advice(
        "Ladder",
        "On firm level ground, one foot out for every four up, three feet above the eave, tied or "
        "held; keep it and the pole well clear of power lines; not in wind, wet or lightning.",
        (),
    )


def _attic() -> Advice:
    return Advice(
        "Attic",
        "Step on framing or boards only; breathing mask, long sleeves, light, someone below. Leave "
        "when it is hot. Old loose insulation may hold asbestos: do not stir it.",
        (),
    )


def _apart(path: Path) -> Advice:
    reasons = [] if path.pieces else ["the pieces are not recorded"]
    return Advice(
        "Taking the vent apart or touching it",
        "Turn the appliance off at its gas valve and let hood, connector and vent cool first: the "
        "metal burns the skin. Wear gloves, sheet edges cut. Nobody turns it on again before the "
        "path is whole and tested.",
        tuple(reasons),
    )


def _asbestos() -> Advice:
    return Advice(
        "Asbestos",
        "Something here may hold asbestos. Do not cut, drill, break, scrape or unwrap it; have it "
        "assessed by a qualified person first.",
        (),
    )


def _touches(survey: Survey, path: Path, kind: str) -> bool:
    """Whether a piece lies in such a space, or its space is not recorded."""
    for piece in path.pieces:
        if piece.space is None and piece.part != "cap":
            return True
        space = survey.spaces.get(piece.space or "")
        if space is not None and space.kind == kind:
            return True
    return not path.pieces


def _may_hold_asbestos(path: Path) -> bool:
    wrapped = path.connector.wrapped
    return (
        any(piece.wall == "asbestos_cement" for piece in path.pieces)
        or wrapped is True
        or path.roof.covering in MAY_HOLD_ASBESTOS
    )
