"""What connectors and common vents share: their factors and the answer that comes of them.

Constants and their source: UMC 2012 803.2.1 to 803.2.5, 803.2.18, 803.2.20 (basis read), the
same in UPC 2012 510.2 and NFPA 54-2012 13.2. That a connector's extra elbows and its length are
added up on the table figure is the strict reading; liner and manifold multiply.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fluewright.capacity.between import KBTU_H, Extent, Gap, Hull
from fluewright.capacity.permitted import Capacity, basis_of, in_watts, no_figure
from fluewright.capacity.table import FT_M, CapacityTable
from fluewright.frozen import frozen
from fluewright.source import Step

LENGTH_FT_PER_IN = 1.5  # of a connector, a manifold, the offsets of a common vent
RIGHT_ANGLES = (90.0, 90.0)  # what an offset counts as where its elbows are not given


@frozen
class Factors:
    """What the maximum is multiplied by at its least, at the readings, at its greatest; why."""

    low: float
    nominal: float
    high: float
    steps: tuple[Step, ...]
    rules: frozenset[str]


def free_length(size_in: float) -> float:
    """Horizontal length that a connector, a manifold or an offset may have. [m]

    Source: UMC 2012 803.2.1 with its table, 803.2.3, 803.2.4; UPC 2012 510.2.1; NFPA 54-2012
        13.2.2 (basis read).

    Args:
        size_in: inside diameter. [in]
    """
    return LENGTH_FT_PER_IN * size_in * FT_M


def capacity_of(
    table: CapacityTable, most: Hull, factors: Factors, place: tuple[Extent, Extent]
) -> Capacity:
    """The maximum with its working; the minimum is zero until one is found."""
    steps = [*most.nominal.steps]
    if most.high > most.low:
        over = f"height {place[0].text()}"
        if table.layout.across:
            over += f" and {table.layout.across} {place[1].text()}"
        steps.append(Step(f"least table maximum over {over}", most.low, KBTU_H))
        steps.append(Step(f"greatest table maximum over {over}", most.high, KBTU_H))
    steps += factors.steps
    steps.append(Step("maximum at the readings", most.nominal.kbtu_h * factors.nominal, KBTU_H))
    return Capacity(
        table.id,
        in_watts(most.low * factors.low, most.high * factors.high),
        in_watts(0.0, 0.0),
        None,
        tuple(steps),
        basis_of(most.cells),
        most.cells,
        named(most.rules | factors.rules),
    )


def named(rules: frozenset[str]) -> frozenset[str]:
    """The rules by the names that the index has for a common vent."""
    return frozenset(f"common_{rule}" for rule in rules)


def none_for(table: CapacityTable, gap: Gap) -> Capacity:
    """The reason in place of a figure, its rules by the names of the index."""
    return no_figure(table, replace(gap, rules=named(gap.rules)))


def no_minimum(whose: str) -> Step:
    """The step that tells why the minimum is zero."""
    return Step(f"minimum: none printed for {whose}", 0.0, KBTU_H)


def angles(elbows: Sequence[float]) -> str:
    """Angles for people."""
    return ", ".join(f"{angle:g} deg" for angle in elbows) or "none"
