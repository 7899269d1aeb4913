"""What a reading's tool leaves uncertain: the half-width that is used when none was written."""

from __future__ import annotations

import re
from collections.abc import Mapping

from fluewright.errors import BadEdition, BadQuantity, OutOfRange
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, parse, parse_tolerance

# What a tool may measure: any dimension, or one of these narrower things.
NARROWER: dict[str, Dimension] = {
    "pitch": Dimension.SLOPE,
    "diameter": Dimension.LENGTH,
    "elevation": Dimension.LENGTH,
    "oxygen": Dimension.CONCENTRATION,
}
ANYTHING = "any"  # a value taken from paper or counted: nothing is added to it
BASES = ("read", "memory", "practice")

_KEYS = ("title", "measures", "half_width", "basis", "note")
_ID = r"[a-z][a-z0-9_]*"
_SHARE = r"(?P<number>[0-9]+(?:\.[0-9]+)?) ?%"


@frozen
class Tool:
    """One way to come by a number, and how far off it may be.

    ``half_width_si`` is in the SI unit of what it measures, or, where ``relative``, a share of
    the value. Where ``share`` is given besides, the wider of the two holds. ``angular`` says
    that the bound is a fixed angle, so that it widens as a ratio where the slope is steep.
    """

    id: str
    title: str
    measures: str
    half_width_si: float
    relative: bool
    basis: str
    note: str
    share: float = 0.0
    angular: bool = False

    @property
    def dimension(self) -> Dimension | None:
        """The dimension of what it measures, or None for a tool that serves any."""
        return _dimension(self.measures)


def half_width(tool: Tool, value_si: float) -> float:
    """How far off this value may be when read with the tool, in the SI unit of the value.

    Raises:
        OutOfRange: a level's fixed angle about so steep a slope reaches upright.
    """
    size = abs(value_si)
    if tool.relative:
        return tool.half_width_si * size
    bound = tool.half_width_si
    if tool.angular:
        # tan(a + d) - tan(a) with tan(a) = size and tan(d) = bound
        room = 1.0 - size * bound
        if room <= 0.0:
            raise OutOfRange(
                f"{tool.id}: a slope of {size:.3g} is too near upright for this tool. "
                "Give rise and run instead."
            )
        bound = bound * (1.0 + size * size) / room
    return max(bound, tool.share * size)


def tools_from(data: Mapping[str, object]) -> dict[str, Tool]:
    """The tools of a table: id to title, measures, half_width, basis and note, all texts.

    ``half_width`` is a bound with its unit (``1/16 in``), a share (``2 %``), the wider of both
    (``2 ppm or 10 %``), or ``0`` for a value that is taken as it stands.

    Raises:
        BadEdition: names every entry that lacks something or holds something unknown.
    """
    tools: dict[str, Tool] = {}
    faults: list[str] = []
    for name, row in data.items():
        try:
            tools[name] = _tool(name, row)
        except (BadEdition, BadQuantity) as fault:
            faults.append(f"tools.{name}: {fault}")
    if faults:
        raise BadEdition("\n".join(faults))
    return tools


def _dimension(measures: str) -> Dimension | None:
    """The dimension behind a word of ``measures``."""
    if measures == ANYTHING:
        return None
    return NARROWER.get(measures) or Dimension(measures)


def _tool(name: str, row: object) -> Tool:
    """One entry of the table."""
    if not re.fullmatch(_ID, name):
        raise BadEdition("the id is not plain lower-case words. Write for example steel_tape.")
    texts = _texts(row)
    known = [*Dimension, *NARROWER, ANYTHING]
    if texts["measures"] not in known:
        raise BadEdition(
            f'measures "{texts["measures"]}" is not known. Write one of: {", ".join(known)}.'
        )
    if texts["basis"] not in BASES:
        raise BadEdition(
            f'basis "{texts["basis"]}" is not known. Write one of: {", ".join(BASES)}.'
        )
    bound, relative, share, angular = _half_width(texts["half_width"], texts["measures"])
    return Tool(
        id=name,
        title=texts["title"],
        measures=texts["measures"],
        half_width_si=bound,
        relative=relative,
        basis=texts["basis"],
        note=texts["note"],
        share=share,
        angular=angular,
    )


def _texts(row: object) -> dict[str, str]:
    """The entry's texts, all there and none besides."""
    if not isinstance(row, Mapping):
        raise BadEdition(f"{row!r} is not a table. Write {', '.join(_KEYS)}.")
    missing = [key for key in _KEYS if key not in row]
    unknown = [str(key) for key in row if key not in _KEYS]
    if missing or unknown:
        parts = [f"{key} is missing" for key in missing] + [f"{key} is unknown" for key in unknown]
        raise BadEdition(f"{', '.join(parts)}. Write {', '.join(_KEYS)}.")
    empty = [key for key in _KEYS if not isinstance(row[key], str) or not row[key].strip()]
    if empty:
        raise BadEdition(f"{', '.join(empty)} must be a text that is not empty.")
    return {key: row[key].strip() for key in _KEYS}


def _half_width(text: str, measures: str) -> tuple[float, bool, float, bool]:
    """Bound, whether it is a share, share besides, whether the bound is a fixed angle."""
    dimension = _dimension(measures)
    if text == "0":
        return 0.0, False, 0.0, False
    share = re.fullmatch(_SHARE, text)
    if share is not None:
        if dimension is Dimension.TEMPERATURE:
            raise BadEdition("half_width of a temperature cannot be a share alone. Write 1 degC.")
        return float(share["number"]) / 100.0, True, 0.0, False
    if dimension is None:
        raise BadEdition(f'half_width "{text}" needs one kind of value. Write 0 or a share, 2 %.')
    fixed, _, besides = text.partition(" or ")
    more = re.fullmatch(_SHARE, besides)
    if besides and more is None:
        raise BadEdition(f'half_width "{text}" is not clear. Write for example 2 ppm or 10 %.')
    angular = dimension is Dimension.SLOPE and parse(fixed, dimension).unit == "deg"
    bound = parse_tolerance(fixed, dimension)
    return bound, False, float(more["number"]) / 100.0 if more else 0.0, angular
