"""House pressure worked out from a blower door test and the fans, with the vent as a leak."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from fluewright.app.draft_tightness import Tightness
from fluewright.draft.from_survey import Modelled
from fluewright.draft.house import Fan, House, HousePressure, Vent, envelope, house_pressure
from fluewright.draft.leakage import from_flow_at_50
from fluewright.draft.solve import solve
from fluewright.errors import BadQuantity, NotSolved
from fluewright.files.physics import house_coefficients
from fluewright.quantity import Dimension, parse

STOREY_M = 2.6  # floor to floor (common practice, no source)
HOOD_M = 1.5  # draft hood of a storage water heater over its floor (common practice, no source)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A house pressure with what it was worked out from.

    Attributes:
        low_pa, likely_pa, high_pa: room less outdoors at the hood, for the ends of what is not
            known of the house: where its leaks are. Low is the deepest suction. [Pa]
        house: the likely balance, flow by flow.
        with_vent: whether the vent's own flow is in it.
    """

    low_pa: float
    likely_pa: float
    high_pa: float
    house: HousePressure
    with_vent: bool


def worked_out(model: Modelled, asked: Tightness) -> Worked:
    """The pressure of the room of an appliance, less outdoors, at its draft hood. [Pa]

    Source: mass balance of one zone (`draft.house`), power law of ASTM E779; the drafting vent is
    one of its outflows. Valid: inner doors open; a closed door needs a pressure that is measured.

    Args:
        model: the appliance with weather and room.
        asked: the house in words.
    Returns:
        The likely pressure and its ends.
    Raises:
        BadQuantity: it names the option and says what to write.
        NotSolved: no pressure balances the house.
    """
    leak = from_flow_at_50(_flow("--leakage", asked.leakage))
    fans = (Fan(name="fans", flow_m3_s=_flow("--exhaust", asked.exhaust, zero=True)),)
    height = STOREY_M if asked.height is None else _length("--house-height", asked.height)
    hood = HOOD_M if asked.hood is None else _length("--hood-height", asked.hood)
    around = model.system.around
    table = house_coefficients()

    def balance(floor: float, ceiling: float, outflow: Callable[[float], float]) -> HousePressure:
        return house_pressure(
            House(
                indoor_k=around.room_k,
                outdoor_k=around.outdoor_k,
                openings=envelope(leak, height, floor, ceiling),
                fans=fans,
                vents=(Vent(name=model.appliance, height_m=hood, outflow=outflow),),
                hood_m=hood,
                air_pa=around.air_pa,
            )
        )

    floor, ceiling = table.numbers["leak.floor_share"], table.numbers["leak.ceiling_share"]
    drawn, with_vent = _drawn(model), True
    try:
        likely = balance(floor.value, ceiling.value, drawn)
    except NotSolved:
        # The vent turns over at some pressure, so that its flow jumps: the house without it.
        drawn, with_vent = _nothing, False
        likely = balance(floor.value, ceiling.value, drawn)
    # Leaks high up raise the neutral level and with it the suction low down, and the reverse.
    ends = []
    for low, high in ((floor.low, ceiling.high), (floor.high, ceiling.low)):
        try:
            ends.append(balance(low, high, drawn).hood_pa)
        except NotSolved:
            ends.append(balance(low, high, _nothing).hood_pa)
    return Worked(
        low_pa=min(*ends, likely.hood_pa),
        likely_pa=likely.hood_pa,
        high_pa=max(*ends, likely.hood_pa),
        house=likely,
        with_vent=with_vent,
    )


def _drawn(model: Modelled) -> Callable[[float], float]:
    """Air that goes up the vent, by the pressure of the room at the hood. [kg/s]"""
    return lambda room_pa: solve(model.build({"room_pa": room_pa})).at.root.flow_kg_s


def _nothing(_: float) -> float:
    return 0.0


def _flow(option: str, text: str, zero: bool = False) -> float:
    return _positive(option, text, Dimension.FLOW, zero)


def _length(option: str, text: str) -> float:
    return _positive(option, text, Dimension.LENGTH, False)


def _positive(option: str, text: str, dimension: Dimension, zero: bool) -> float:
    try:
        value = parse(text, dimension).value
    except BadQuantity as error:
        raise BadQuantity(f"{option}: {error}") from None
    if value < 0.0 or (value == 0.0 and not zero):
        least = "zero or more" if zero else "more than zero"
        raise BadQuantity(f'{option}: "{text}" is too small. Write {least}.')
    return value
