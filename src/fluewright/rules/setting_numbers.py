"""Numbers of the rules on the place: input at a height, volume for an input, counted volume."""

from __future__ import annotations

from fluewright.facts import Unknown
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.rules.logic import LimitNum, Num, fact, ratio
from fluewright.rules.outcome import Context, Node
from fluewright.units import from_unit

THOUSAND_FEET = 304.8  # m
THOUSAND_BTUH = from_unit(1000.0, "Btu/h")  # W


def _both(ctx: Context, one: Num, other: Num) -> tuple[Measured, Measured] | Unknown:
    """Two numbers, or what to learn for the first that is not known."""
    found: list[Measured] = []
    for item in (one, other):
        value = item.value(ctx)
        if isinstance(value, Unknown):
            asked = value.asks or (ctx.ask_for(item.fact_name(), value.reason),)
            return Unknown(value.reason, asked)
        found.append(value)
    return found[0], found[1]


@frozen
class AtAltitude(Num):
    """The rated input less a share of the edition for each thousand feet above the sea."""

    rated: Num
    altitude: Num
    share: Num

    def parts(self) -> tuple[Node, ...]:
        return (self.rated, self.altitude, self.share)

    def fact_name(self) -> str:
        return self.altitude.fact_name()

    def value(self, ctx: Context) -> Measured | Unknown:
        found, share = _both(ctx, self.rated, self.altitude), self.share.value(ctx)
        if isinstance(found, Unknown) or isinstance(share, Unknown):
            return found if isinstance(found, Unknown) else Unknown("no share for the altitude")
        rated, height = found
        low, high = (
            max(0.0, power * (1.0 - share.value * feet / THOUSAND_FEET))
            for power, feet in ((rated.low, height.high), (rated.high, height.low))
        )
        return Measured.between(low, high, Dimension.POWER, height.tool, height.evidence)


@frozen
class VolumeFor(Num):
    """The volume that a number of the edition asks for each 1,000 Btu/h of an input."""

    input: Num
    per_thousand: Num

    def parts(self) -> tuple[Node, ...]:
        return (self.input, self.per_thousand)

    def fact_name(self) -> str:
        return self.input.fact_name()

    def value(self, ctx: Context) -> Measured | Unknown:
        power, each = self.input.value(ctx), self.per_thousand.value(ctx)
        if isinstance(power, Unknown):
            return power
        if isinstance(each, Unknown):
            return each
        k = each.value / THOUSAND_BTUH
        return Measured(
            power.value * k, Dimension.VOLUME, power.tolerance * k, power.tool, power.evidence
        )


@frozen
class Counted(Num):
    """The volume of a room, its ceiling counted no higher than the edition lets."""

    volume: Num
    ceiling: Num
    most: Num

    def parts(self) -> tuple[Node, ...]:
        return (self.volume, self.ceiling, self.most)

    def fact_name(self) -> str:
        return self.volume.fact_name()

    def value(self, ctx: Context) -> Measured | Unknown:
        found, most = _both(ctx, self.volume, self.ceiling), self.most.value(ctx)
        if isinstance(found, Unknown) or isinstance(most, Unknown):
            return found if isinstance(found, Unknown) else Unknown("no height to count")
        volume, ceiling = found
        if ceiling.low <= 0.0:
            return Unknown("the height of the ceiling is not a height")
        shares = [min(1.0, most.value / height) for height in (ceiling.high, ceiling.low)]
        low, high = volume.low * shares[0], volume.high * shares[1]
        return Measured.between(low, high, Dimension.VOLUME, volume.tool, volume.evidence)


def derated(rated: str, altitude: str, key: str) -> Num:
    """The rated input at the height of the place."""
    return AtAltitude(fact(rated), fact(altitude), ratio(key))


def volume_for(power: str, key: str) -> Num:
    """The volume asked for an input."""
    return VolumeFor(fact(power), LimitNum(key, Dimension.VOLUME))


def counted(volume: str, ceiling: str, key: str) -> Num:
    """The volume of a room as it counts."""
    return Counted(fact(volume), fact(ceiling), LimitNum(key, Dimension.LENGTH))
