"""A stretch of a path as figures that move with the inputs, and the segments made of it.

What is decided once from the survey (which pieces, which fittings, where the roof may be) stands
in the data classes; what depends on the inputs is plain arithmetic in their methods.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from fluewright.draft.survey_model.inputs import Figure, Values
from fluewright.draft.system import Node, Segment


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """The inside of a pipe: a diameter, or an area with its shape.

    ``shape`` is the hydraulic diameter over the square root of the area.
    """

    diameter: Figure | None = None
    area: Figure | None = None
    shape: Figure | None = None

    def area_m2(self, values: Values) -> float:
        """Free area. [m2]"""
        if self.area is not None:
            return self.area.at(values)
        assert self.diameter is not None
        return math.pi / 4.0 * self.diameter.at(values) ** 2

    def hydraulic_m(self, values: Values) -> float:
        """Inside diameter, the hydraulic one where it is not round. [m]"""
        if self.area is not None and self.shape is not None:
            root: float = self.area.at(values) ** 0.5
            return self.shape.at(values) * root
        assert self.diameter is not None
        return self.diameter.at(values)

    @property
    def middle_m2(self) -> float:
        """Free area where every input is at its value. [m2]"""
        if self.area is not None:
            return self.area.value
        assert self.diameter is not None
        return math.pi / 4.0 * self.diameter.value**2


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """A loss at the start of a stretch: ``weight`` times a coefficient, times a count if any.

    ``on`` is the bore whose velocity head it is for; None is that of the stretch itself.
    """

    coefficient: Figure
    weight: float = 1.0
    count: Figure | None = None
    on: Bore | None = None

    def at(self, values: Values, own_m2: float) -> float:
        """The loss on the velocity head of an area. [-]"""
        loss = self.weight * self.coefficient.at(values)
        if self.count is not None:
            loss = loss * self.count.at(values)
        if self.on is not None:
            ratio = own_m2 / self.on.area_m2(values)
            loss = loss * ratio * ratio
        return loss


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A sudden change of area from the bore before; ``narrows`` as the survey has it."""

    before: Bore
    narrows: bool
    contraction: Figure

    def at(self, values: Values, own_m2: float) -> float:
        """The loss on the velocity head of the later area. [-]

        Source: handbook contraction k (1 - A2/A1) on the later pipe, and Borda and Carnot's
        expansion (1 - A1/A2)2 on the earlier one. Where readings let the areas swap, the
        contraction counts by its size.
        """
        ratio = own_m2 / self.before.area_m2(values)
        if self.narrows:
            return self.contraction.at(values) * abs(1.0 - ratio)
        return (ratio - 1.0) ** 2  # (1 - A1/A2)2 (A2/A1)2


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """What a wall does: heat loss, inside film, roughness, stored heat.

    Masonry stores heat in ``nodes``, behind ``face_w_m2k``, instead of in ``heat`` alone.
    """

    u: Figure
    film: Figure
    rough: Figure
    heat: Figure
    nodes: tuple[Node, ...] = ()
    face_w_m2k: float = math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """Surroundings: outdoors (share 0), the heated rooms (share 1), or between.

    With ``outdoors`` the share is that of outdoors instead.
    """

    share: Figure
    outdoors: bool = False

    def kelvin(self, values: Values, outdoor_k: float, room_k: float) -> float:
        """Temperature. [K]"""
        share = self.share.at(values)
        if self.outdoors:
            share = 1.0 - share
        return outdoor_k + share * (room_k - outdoor_k)


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How far a stretch goes and climbs.

    Either ``length`` and the shares of it that go up (several count in equal parts), or
    ``rise`` and ``horizontal`` with ``bend``: 0 along the slant, 1 along both legs.
    """

    length: Figure | None = None
    ups: tuple[Figure, ...] = ()
    rise: Figure | None = None
    horizontal: Figure | None = None
    bend: Figure | None = None

    def at(self, values: Values) -> tuple[float, float]:
        """Length along the center line, and rise. [m, m]"""
        if self.length is not None:
            length = self.length.at(values)
            up = sum(one.at(values) for one in self.ups) / len(self.ups)
            return length, length * up
        assert self.rise is not None
        assert self.horizontal is not None
        assert self.bend is not None
        rise, aside = self.rise.at(values), self.horizontal.at(values)
        slant: float = (rise * rise + aside * aside) ** 0.5
        return slant + self.bend.at(values) * (abs(rise) + aside - slant), rise

    @property
    def middle_rise_m(self) -> float:
        """Rise where every input is at its value. [m]"""
        if self.length is not None:
            return self.length.value * sum(one.value for one in self.ups) / len(self.ups)
        assert self.rise is not None
        return self.rise.value


@dataclass(frozen=True, slots=True, kw_only=True)
class OverRoof:
    """Where the roof cuts a stretch.

    ``height`` is that of the outlet over the roof, ``above_m`` what of it lies above the
    stretch, whose own rise is ``rise_m``; both as surveyed.
    """

    height: Figure
    above_m: float
    rise_m: float

    def share(self, values: Values) -> float:
        """Share of the stretch that stands over the roof. [-]"""
        at = (self.height.at(values) - self.above_m) / self.rise_m
        below = 1.0 - (at + abs(at)) / 2.0  # of at kept from 0 up
        return 1.0 - (below + abs(below)) / 2.0  # and to 1, both ends exact


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One piece of a path.

    ``losses`` stand at its start, ``inner`` halfway: the elbows of a run, wherever they are.
    """

    name: str
    way: Way
    bore: Bore
    wall: Wall
    zone: Zone
    losses: tuple[Loss, ...] = ()
    inner: tuple[Loss, ...] = ()
    change: Change | None = None
    roof: OverRoof | None = None

    def segments(self, values: Values, outdoor_k: float, room_k: float) -> tuple[Segment, ...]:
        """The piece as one segment, cut where it has losses inside and where the roof may be.

        Args:
            values: of the inputs, by name.
            outdoor_k: outdoors. [K]
            room_k: in the heated rooms. [K]
        """
        length, rise = self.way.at(values)
        area = self.bore.area_m2(values)
        zone_k = self.zone.kelvin(values, outdoor_k, room_k)
        over = 0.0 if self.roof is None else self.roof.share(values)
        entry = _sum(self.losses, values, area)
        if self.change is not None:
            entry = entry + self.change.at(values, area)
        parts: list[tuple[str, float, float, float]] = []  # name, share, surroundings, loss
        if self.inner:
            half = (1.0 - over) / 2.0
            inner = _sum(self.inner, values, area)
            parts = [
                (self.name, half, zone_k, entry),
                (f"{self.name} further on", half, zone_k, inner),
            ]
        else:
            parts = [(self.name, 1.0 - over, zone_k, entry)]
        if self.roof is not None:
            parts.append((f"{self.name} over the roof", over, outdoor_k, 0.0))
        return tuple(
            self._segment(values, name, share * length, share * rise, around_k, loss)
            for name, share, around_k, loss in parts
        )

    def _segment(
        self, values: Values, name: str, length: float, rise: float, around_k: float, entry: float
    ) -> Segment:
        return Segment(
            name=name,
            length_m=length,
            rise_m=rise,
            diameter_m=self.bore.hydraulic_m(values),
            area_m2=self.bore.area_m2(values) if self.bore.area is not None else None,
            ambient_k=around_k,
            u_w_m2k=self.wall.u.at(values),
            inside_w_m2k=self.wall.film.at(values),
            entry_loss=entry,
            roughness_m=self.wall.rough.at(values),
            wall_j_m2k=self.wall.heat.at(values),
            nodes=self.wall.nodes,
            face_w_m2k=self.wall.face_w_m2k,
        )


def _sum(losses: tuple[Loss, ...], values: Values, area_m2: float) -> float:
    return sum((loss.at(values, area_m2) for loss in losses), 0.0)


def segments_of(
    stretches: Iterable[Stretch], values: Values, outdoor_k: float, room_k: float
) -> tuple[Segment, ...]:
    """The segments of several stretches, in their order.

    Args:
        stretches: in the direction of flow.
        values: of the inputs, by name.
        outdoor_k: outdoors. [K]
        room_k: in the heated rooms. [K]
    """
    return tuple(
        segment for one in stretches for segment in one.segments(values, outdoor_k, room_k)
    )
