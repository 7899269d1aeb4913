"""Facts of the air for burning, venting and diluting: spaces, openings, ducts."""

from __future__ import annotations

from fluewright.facts.base import table
from fluewright.survey import Survey


def spaces_with_appliances(survey: Survey) -> tuple[str, ...]:
    """Names of the spaces that an appliance stands in, each once."""
    names = (a.space for a in survey.appliances.values() if a.taken_out is not True)
    return tuple(dict.fromkeys(name for name in names if name in survey.spaces))


def openings(survey: Survey) -> tuple[tuple[str, str, object], ...]:
    """Every opening for air: its name, the space it serves, and the opening itself."""
    return ()


FACTS = table()
