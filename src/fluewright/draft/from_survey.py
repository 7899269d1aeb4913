"""A survey of one appliance on its own vent as what the engine solves, every number traced.

Nothing is taken over in silence. What was measured keeps its bounds, what was not is taken
between bounds and listed, what cannot be taken is asked for, and what the model does not hold is
said. The system is a pure function of the inputs, so that an ensemble may draw all of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.draft.coefficients import Coefficients
from fluewright.draft.doubts import Doubts
from fluewright.draft.fuel import Fuel
from fluewright.draft.gas import humidity, isa_pressure
from fluewright.draft.survey_model.caps import Cap, cap_of
from fluewright.draft.survey_model.flame import HIGHEST_M, Flame, flame_of
from fluewright.draft.survey_model.inputs import GIVEN, Assumed, Book, Figure, Input, Values
from fluewright.draft.survey_model.pieces import Start, stretches_of
from fluewright.draft.survey_model.remarks import remark_appliance, remark_path
from fluewright.draft.survey_model.stretch import Bore, Stretch, Zone, segments_of
from fluewright.draft.survey_model.walls import bore_of
from fluewright.draft.survey_model.zones import zone_of_space
from fluewright.draft.system import Around, Lone
from fluewright.errors import CannotModel, OutOfRange
from fluewright.joining import is_out, members, whole
from fluewright.quantity import Measured
from fluewright.survey import Path, Survey

Span = tuple[float, float, float]  # low, value, high
TABLE_AIR_K = 288.706  # 60 degF, the air that the capacity tables are reckoned with


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Weather and house, each as a number or as low, value, high; None: the default.

    Attributes:
        outdoor_k: outdoor air; default 60 degF, as behind the capacity tables. [K]
        room_k: heated rooms; default that of the coefficients. [K]
        room_pa: room of the appliance less outdoors at its hood, negative under suction;
            default 0, a house at rest. [Pa]
        wind_pa: pressure of the wind at the cap, positive holds the gas back; default 0. [Pa]
    """

    outdoor_k: float | Span | None = None
    room_k: float | Span | None = None
    room_pa: float | Span | None = None
    wind_pa: float | Span | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """Weather, house and site as figures that move with the inputs."""

    outdoor_k: Figure
    room_k: Figure
    room_pa: Figure
    wind_pa: Figure
    humidity: Figure
    altitude_m: Figure

    def around(self, values: Values, zone: Zone) -> Around:
        """The surroundings of an appliance that stands in a zone."""
        outdoor_k, rooms_k = self.outdoor_k.at(values), self.room_k.at(values)
        air_pa = isa_pressure(self.altitude_m.at(values))
        room_k = zone.kelvin(values, outdoor_k, rooms_k)
        water = humidity(room_k, self.humidity.at(values), air_pa)
        return Around(
            outdoor_k=outdoor_k,
            room_k=room_k,
            air_pa=air_pa,
            room_pa=self.room_pa.at(values),
            cap_pa=self.wind_pa.at(values),
            room_water=water,
            outdoor_water=_lesser(water, humidity(outdoor_k, 1.0, air_pa)),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What a survey decides, so that the inputs alone make the system."""

    flame: Flame
    zone: Zone
    stretches: tuple[Stretch, ...]
    cap: Cap
    house: House

    def system(self, values: Values, *, firing: bool = True) -> Lone:
        """The system where all inputs have these values.

        Args:
            values: of every input, by name, in its unit.
            firing: False while the appliance stands idle.
        """
        around = self.house.around(values, self.zone)
        rooms_k = self.house.room_k.at(values)
        return Lone(
            flue=self.flame.flue(
                values, room_k=around.room_k, room_water=around.room_water, firing=firing
            ),
            hood=self.flame.hood(values),
            segments=segments_of(self.stretches, values, around.outdoor_k, rooms_k),
            around=around,
            cap_loss=self.cap.at(values, self.stretches[-1].bore),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Modelled:
    """A system made from a survey, and all that went into it.

    Attributes:
        appliance: its id.
        system: with every input at its value.
        inputs: every number, with its range and origin.
        assumed: what the survey does not say, what was taken instead, and how to find out.
        not_modelled: what the survey tells and the system does not hold.
        doubts: those of it, and others, that go before any figure.
        plan: makes the system from the inputs.
    """

    appliance: str
    system: Lone
    inputs: tuple[Input, ...]
    assumed: tuple[Assumed, ...]
    not_modelled: tuple[str, ...]
    doubts: Doubts
    plan: Plan

    @property
    def values(self) -> dict[str, float]:
        """The value of every input by its name, in its unit."""
        return {one.name: one.value for one in self.inputs}

    def build(self, values: Mapping[str, float], *, firing: bool = True) -> Lone:
        """The system with some inputs at other values.

        Args:
            values: by name of the input, in its unit; what is left out keeps its value.
            firing: False while the appliance stands idle.
        Raises:
            OutOfRange: no input has such a name.
        """
        usual = self.values
        unknown = sorted(values.keys() - usual.keys())
        if unknown:
            raise OutOfRange(f"draft: no input {', '.join(unknown)}. There are {', '.join(usual)}.")
        return self.plan.system({**usual, **values}, firing=firing)


def from_survey(
    survey: Survey,
    coefficients: Coefficients,
    fuels: Mapping[str, Fuel],
    *,
    conditions: Conditions | None = None,
    appliance: str | None = None,
) -> Modelled:
    """What the engine solves for one appliance that has its vent or chimney to itself.

    Args:
        survey: what was seen.
        coefficients: what is assumed where nothing was measured.
        fuels: by id.
        conditions: weather and house; the default is 60 degF outdoors, a house at rest, no wind.
        appliance: which; None where only one burns.
    Returns:
        The system, every input behind it, what was assumed and what is not in it.
    Raises:
        CannotModel: names everything that is missing or that this engine does not compute.
    """
    path = _path(survey, appliance)
    name = path.from_
    book = Book(coefficients)
    owner = survey.appliances[name]
    house = house_of(survey, conditions or Conditions(), book)
    first = first_bore(path, book)
    flame, outlet, losses = flame_of(survey, name, first, fuels, book)
    on_top = owner.outlet_on_top if isinstance(owner.outlet_on_top, bool) else None
    start = Start(bore=outlet, losses=losses, on_top=on_top)
    stretches = stretches_of(survey, path, start, book, own_space=owner.space)
    cap = cap_of(path, stretches[-1].bore if stretches else first, book)
    remark_path(path, book)
    room_given = conditions is not None and conditions.room_pa is not None
    remark_appliance(survey, name, book, room_given=room_given)
    zone = zone_of_space(survey, owner.space, name, book)
    book.finish()
    plan = Plan(flame=flame, zone=zone, stretches=stretches, cap=cap, house=house)
    return modelled(name, plan, book)


def modelled(name: str, plan: Plan, book: Book) -> Modelled:
    """A plan with its system and all that the book holds."""
    inputs = tuple(book.inputs.values())
    return Modelled(
        appliance=name,
        system=plan.system({one.name: one.value for one in inputs}),
        inputs=inputs,
        assumed=tuple(book.assumed),
        not_modelled=tuple(book.not_modelled),
        doubts=book.doubts,
        plan=plan,
    )


def _lesser(one: float, other: float) -> float:
    """The smaller of two, element by element where they are arrays.

    Outdoors as much water as indoors, at most what the air holds there: no one knows better, and
    air taken for drier than it is would make the draft look better than it is.
    """
    return (one + other - abs(one - other)) / 2.0


def house_of(survey: Survey, conditions: Conditions, book: Book) -> House:
    """Weather, house and site as inputs.

    Args:
        survey: for its altitude.
        conditions: as asked for.
        book: takes the inputs and what was assumed.
    """
    return House(
        outdoor_k=given(
            "outdoor_k", "outdoor air", conditions.outdoor_k, TABLE_AIR_K, "K",
            "60 degF, as behind the capacity tables", book,
        ),
        room_k=book.coefficient("room.temperature") if conditions.room_k is None
        else given("room_k", "heated rooms", conditions.room_k, 0.0, "K", "", book),
        room_pa=given(
            "room_pa", "pressure of the room less outdoors", conditions.room_pa, 0.0, "Pa",
            "a house at rest, no fan on", book,
        ),
        wind_pa=given(
            "wind_pa", "pressure of the wind at the cap", conditions.wind_pa, 0.0, "Pa",
            "no wind", book,
        ),
        humidity=book.coefficient("room.humidity"),
        altitude_m=_altitude(survey, book),
    )  # fmt: skip


def given(
    name: str,
    label: str,
    asked: float | Span | None,
    usual: float,
    unit: str,
    why: str,
    book: Book,
) -> Figure:
    """A condition as the caller gives it, or the stated default.

    Args:
        name: key of the input.
        label: plain words.
        asked: a number, or low, value, high; None: the default.
        usual: the default.
        unit: of all of them.
        why: what the default stands for.
        book: takes the input.
    Raises:
        OutOfRange: low, value, high in another order.
    """
    if asked is None:
        return book.number(name, label, (usual, usual, usual), unit, f"assumed: {why}")
    span = asked if isinstance(asked, tuple) else (asked, asked, asked)
    if not span[0] <= span[1] <= span[2]:
        raise OutOfRange(f"draft: {name} {span}: give low, value, high in this order.")
    return book.number(name, label, span, unit, GIVEN)


def _altitude(survey: Survey, book: Book) -> Figure:
    elevation, label = survey.site.elevation, "height over the sea"
    if isinstance(elevation, Measured):
        return book.own(elevation, "altitude_m", label, "m")
    return book.assume(
        "altitude_m", label, (0.0, 300.0, HIGHEST_M), "m",
        Assumed(
            what="height over the sea",
            taken=f"0 to {HIGHEST_M:.0f} m",
            measure="look it up on a map (site.elevation)",
        ),
    )  # fmt: skip


def _path(survey: Survey, appliance: str | None) -> Path:
    """The whole way of the gas of the one appliance asked for."""
    live = [path for path in survey.paths if not is_out(survey, path)]
    if appliance is not None:
        live = [path for path in live if path.from_ == appliance]
    if len(live) != 1:
        names = ", ".join(path.from_ for path in live) or "none"
        which = "an appliance in use with a path of its own" if appliance else "exactly one path"
        raise CannotModel([f"paths: {which} is needed; found: {names}. Say which appliance."])
    path = live[0]
    if path.joins is not None and len(members(survey, path.joins)) > 1:
        raise CannotModel(
            [f"{path.from_}: it shares {path.joins} with others. Solve them together."]
        )
    return whole(survey, path)


def first_bore(path: Path, book: Book) -> Bore:
    """Bore of the first piece behind an appliance."""
    pieces = [piece for piece in path.pieces if piece.part != "cap"]
    if pieces and (path.joins is None or pieces[0].role == "connector"):
        return bore_of(pieces[0], path, book)
    how = "List the pieces from the hood to the cap."
    return Bore(diameter=book.lacks(path.from_, "way of its gas", how))
