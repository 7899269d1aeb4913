"""A survey of several appliances on one common vent as what the engine solves, all traced.

The rules are those of ``draft.from_survey``: readings keep their bounds, what was not measured is
taken between bounds and listed, and everything that is missing is named at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from fluewright.draft.coefficients import Coefficients
from fluewright.draft.doubts import Doubts
from fluewright.draft.from_survey import Conditions, House, Span, first_bore, given, house_of
from fluewright.draft.fuel import Fuel
from fluewright.draft.survey_model.caps import Cap, cap_of
from fluewright.draft.survey_model.flame import Flame, flame_of
from fluewright.draft.survey_model.inputs import Assumed, Book, Figure, Input, Values
from fluewright.draft.survey_model.junction import Cut, cut, way_in
from fluewright.draft.survey_model.own_book import OwnBook
from fluewright.draft.survey_model.pieces import Start, stretches_of
from fluewright.draft.survey_model.remarks import remark_appliance, remark_path
from fluewright.draft.survey_model.stretch import Bore, Stretch, Zone, segments_of
from fluewright.draft.survey_model.zones import zone_of_space
from fluewright.draft.tree_system import MOST_BRANCHES, Branch, Common, Joined
from fluewright.errors import CannotModel, OutOfRange
from fluewright.joining import entry_index, members, trunk, whole
from fluewright.survey import Path, Piece, Survey

Firing = Mapping[str, bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One appliance on a common vent.

    Attributes:
        name: its id.
        flame: its gas and hood.
        zone: what it stands in.
        room_pa: pressure of its room less outdoors. [Pa]
        stretches: its connector, the way into the common vent included.
    """

    name: str
    flame: Flame
    zone: Zone
    room_pa: Figure
    stretches: tuple[Stretch, ...]

    def branch(self, values: Values, house: House, firing: bool) -> Branch:
        """The appliance with its connector, where all inputs have these values."""
        around = house.around(values, self.zone)
        return Branch(
            name=self.name,
            flue=self.flame.flue(
                values, room_k=around.room_k, room_water=around.room_water, firing=firing
            ),
            hood=self.flame.hood(values),
            segments=segments_of(
                self.stretches, values, around.outdoor_k, house.room_k.at(values)
            ),
            room_pa=self.room_pa.at(values),
            room_k=around.room_k,
        )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One place where connectors enter, and the common vent from there to the next.

    Attributes:
        name: of this stretch of the common vent.
        members: the appliances that enter here.
        stretches: up to where the next ones enter, the way in there included.
    """

    name: str
    members: tuple[Member, ...]
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TreePlan:
    """What a survey decides, so that the inputs alone make the system; the lowest level first."""

    levels: tuple[Level, ...]
    cap: Cap
    house: House

    def joined(self, values: Values, firing: Firing) -> Joined:
        """The system where all inputs have these values.

        Args:
            values: of every input, by name, in its unit.
            firing: whether an appliance burns, by name; who is not named burns.
        """
        outdoor_k, rooms_k = self.house.outdoor_k.at(values), self.house.room_k.at(values)
        below: tuple[Branch | Common, ...] = ()
        for level in self.levels:
            entering = tuple(
                one.branch(values, self.house, firing.get(one.name, True)) for one in level.members
            )
            pipe = segments_of(level.stretches, values, outdoor_k, rooms_k)
            root = Common(name=level.name, inlets=(*below, *entering), segments=pipe)
            below = (root,)
        return Joined(
            root=root,
            around=self.house.around(values, self.levels[0].members[0].zone),
            cap_loss=self.cap.at(values, self.levels[-1].stretches[-1].bore),
        )

    @property
    def names(self) -> tuple[str, ...]:
        """The appliances, from below."""
        return tuple(one.name for level in self.levels for one in level.members)


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelledTree:
    """A common vent made from a survey, and all that went into it.

    Attributes:
        common: its id.
        joined: with every input at its value and every appliance burning.
        inputs: every number, with its range and origin.
        assumed: what the survey does not say, what was taken instead, and how to find out.
        not_modelled: what the survey tells and the system does not hold.
        doubts: those of it, and others, that go before any figure.
        plan: makes the system from the inputs.
    """

    common: str
    joined: Joined
    inputs: tuple[Input, ...]
    assumed: tuple[Assumed, ...]
    not_modelled: tuple[str, ...]
    doubts: Doubts
    plan: TreePlan

    @property
    def values(self) -> dict[str, float]:
        """The value of every input by its name, in its unit."""
        return {one.name: one.value for one in self.inputs}

    def build(self, values: Mapping[str, float], *, firing: Firing | None = None) -> Joined:
        """The system with some inputs at other values.

        Args:
            values: by name of the input, in its unit; what is left out keeps its value.
            firing: whether an appliance burns, by name; who is not named burns.
        Raises:
            OutOfRange: no input or no appliance has such a name.
        """
        usual, firing = self.values, firing or {}
        unknown = sorted(values.keys() - usual.keys())
        if unknown:
            raise OutOfRange(f"draft: no input {', '.join(unknown)}. There are {', '.join(usual)}.")
        strange = sorted(firing.keys() - set(self.plan.names))
        if strange:
            raise OutOfRange(
                f"draft: no appliance {', '.join(strange)} on {self.common}. "
                f"There are {', '.join(self.plan.names)}."
            )
        return self.plan.joined({**usual, **values}, firing)


def tree_from_survey(
    survey: Survey,
    coefficients: Coefficients,
    fuels: Mapping[str, Fuel],
    *,
    conditions: Conditions | None = None,
    common: str | None = None,
    rooms_pa: Mapping[str, float | Span] | None = None,
) -> ModelledTree:
    """What the engine solves for all appliances that share one vent or chimney.

    Args:
        survey: what was seen.
        coefficients: what is assumed where nothing was measured.
        fuels: by id.
        conditions: weather and house; the default is 60 degF outdoors, a house at rest, no wind.
        common: which common vent; None where only one serves several appliances.
        rooms_pa: pressure less outdoors of a space, by its id, where appliances stand in several
            whose pressures differ. [Pa]
    Returns:
        The system, every input behind it, what was assumed and what is not in it.
    Raises:
        CannotModel: names everything that is missing or that this engine does not compute.
    """
    name = _which(survey, common)
    book = Book(coefficients)
    house = house_of(survey, conditions or Conditions(), book)
    paths = members(survey, name)
    vent = survey.common[name]
    low = min(entry_index(path, vent) for path in paths)
    shared = replace(trunk(name, vent), pieces=vent.pieces[low:])
    drawn = [_drawn(survey, path, rooms_pa or {}, house, fuels, book) for path in paths]
    at = [entry_index(path, vent) - low for path in paths]
    pipe = _pipe(survey, shared, drawn[at.index(0)], book)
    last = pipe[-1].bore if pipe else Bore(diameter=book.lacks(name, "bore", "Describe it."))
    cap = cap_of(shared, last, book)
    remark_path(shared, book)
    _rooms(survey, paths, rooms_pa or {}, book)
    book.finish()
    levels = _levels(name, shared.pieces, pipe, list(zip(at, drawn, strict=True)), book)
    book.finish()
    return _modelled(name, TreePlan(levels=levels, cap=cap, house=house), book)


def _which(survey: Survey, common: str | None) -> str:
    """The common vent asked for, or the one that serves several appliances."""
    live = {name: len(members(survey, name)) for name in survey.common}
    if common is not None:
        if not live.get(common):
            known = ", ".join(name for name, many in live.items() if many) or "none"
            raise CannotModel([f"{common}: no appliance burns into such a common vent. {known}."])
        names = [common]
    else:
        names = [name for name, many in live.items() if many > 1] or [
            name for name, many in live.items() if many
        ]
    if len(names) != 1:
        found = ", ".join(names) or "none"
        raise CannotModel(
            [f"common: exactly one common vent is needed; found: {found}. Say which."]
        )
    if live[names[0]] > MOST_BRANCHES:
        raise CannotModel([f"{names[0]}: {live[names[0]]} appliances; at most {MOST_BRANCHES}."])
    return names[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """An appliance with its connector, and the common vent from there on as its gas finds it."""

    path: Path
    member: Member
    rest: tuple[Stretch, ...]


def _drawn(
    survey: Survey,
    path: Path,
    rooms_pa: Mapping[str, float | Span],
    house: House,
    fuels: Mapping[str, Fuel],
    whole_book: Book,
) -> _Drawn:
    name = path.from_
    owner, book, entire = survey.appliances[name], OwnBook(whole_book, name), whole(survey, path)
    flame, outlet, losses = flame_of(survey, name, first_bore(entire, book), fuels, book)
    on_top = owner.outlet_on_top if isinstance(owner.outlet_on_top, bool) else None
    start = Start(bore=outlet, losses=losses, on_top=on_top)
    made = stretches_of(survey, entire, start, book, own_space=owner.space)
    own = sum(piece.part != "cap" for piece in path.pieces)
    remark_path(path, book)
    room_pa, space = house.room_pa, owner.space or ""
    given_here = space in rooms_pa or room_pa.value != 0.0
    remark_appliance(survey, name, book, room_given=given_here)
    if space in rooms_pa:
        label = f"pressure of {space} less outdoors"
        room_pa = given(f"{space}.room_pa", label, rooms_pa[space], 0.0, "Pa", "", book)
    member = Member(
        name=name,
        flame=flame,
        zone=zone_of_space(survey, owner.space, name, book),
        room_pa=room_pa,
        stretches=made[:own],
    )
    return _Drawn(path=path, member=member, rest=made[own:])


def _pipe(survey: Survey, shared: Path, lowest: _Drawn, book: Book) -> tuple[Stretch, ...]:
    """The common vent by itself; the direction into an elbow is that of the lowest connector."""
    if shared.pieces and shared.pieces[0].part == "elbow":
        return lowest.rest
    return stretches_of(survey, shared, Start(), book)


def _rooms(
    survey: Survey, paths: tuple[Path, ...], rooms_pa: Mapping[str, float | Span], book: Book
) -> None:
    """Lists that rooms whose pressures nobody gave are taken alike."""
    spaces = dict.fromkeys(survey.appliances[path.from_].space for path in paths)
    alike = [one or "a space that nobody named" for one in spaces if one not in rooms_pa]
    if len(alike) > 1:
        book.note(
            Assumed(
                what=f"pressures of {' and '.join(alike)}",
                taken="the same over outdoors, as with open doors on one floor",
                measure="read the pressure between them, doors closed and fans on",
            )
        )


def _levels(
    name: str,
    pieces: tuple[Piece, ...],
    pipe: tuple[Stretch, ...],
    drawn: list[tuple[int, _Drawn]],
    book: Book,
) -> tuple[Level, ...]:
    """The common vent, cut where appliances enter it, from below."""
    listed = [piece for piece in pieces if piece.part != "cap"]
    places = sorted({at for at, _ in drawn})
    cuts = {at: cut(listed[at], pipe[at], book) for at in places}
    found: list[Level] = []
    for at, end in zip(places, [*places[1:], len(pipe)], strict=True):
        here = [one for place, one in drawn if place == at]
        above = [cuts[at].above, *pipe[at + 1 : end]]
        below = cuts[end].below if end < len(pipe) else None
        found.append(
            Level(
                name=f"{name} from {listed[at].id}",
                members=tuple(_entered(listed[at], cuts[at], here, bool(found), book)),
                stretches=(*above, *([below] if below is not None else ())),
            )
        )
    return tuple(found)


def _entered(
    piece: Piece, cuts: Cut, here: list[_Drawn], followed: bool, book: Book
) -> Iterator[Member]:
    """The appliances that enter a piece, each with its way into it."""
    ways = [one.path.enters.way if one.path.enters else None for one in here]
    straight = ways.count("through")
    if piece.part in ("tee", "wye") and straight + followed > 1:
        how = "Only one stream comes from below: look which, and say side for the others."
        book.lacks(piece.id, "what goes straight through it", how)
    for one, way in zip(here, ways, strict=True):
        free = not followed and straight == 0
        last = way_in(piece, one.rest[0], cuts, one.member.name, way, free, book)
        ends = (*one.member.stretches, *([last] if last is not None else ()))
        yield replace(one.member, stretches=ends)


class _Asked(dict[str, float]):
    """The values of inputs, and which of them were asked for."""

    def __init__(self, inputs: Mapping[str, Input]) -> None:
        super().__init__({one.name: one.value for one in inputs.values()})
        self.names: set[str] = set()

    def __getitem__(self, name: str) -> float:
        self.names.add(name)
        return super().__getitem__(name)


def _modelled(name: str, plan: TreePlan, book: Book) -> ModelledTree:
    """A plan with its system and what the book holds of it.

    A piece of the common vent is read once for itself and once for each connector that enters it;
    inputs that only the latter would need are left out.
    """
    asked = _Asked(book.inputs)
    joined = plan.joined(asked, {})
    return ModelledTree(
        common=name,
        joined=joined,
        inputs=tuple(one for one in book.inputs.values() if one.name in asked.names),
        assumed=tuple(book.assumed),
        not_modelled=tuple(book.not_modelled),
        doubts=book.doubts,
        plan=plan,
    )
