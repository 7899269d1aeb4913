"""The largest input that a vent carries by the model, on one named basis.

For what the printed tables do not hold: heights under their first row, sizes between theirs, more
elbows than theirs. It is an engineering estimate; where a table answers, the table counts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from fluewright.draft import kernel
from fluewright.draft.bases import CodeBasis
from fluewright.draft.gas import isa_pressure
from fluewright.draft.solve import figures
from fluewright.draft.system import Around, Flue, Lone, Segment
from fluewright.errors import NotSolved, OutOfRange

ELBOW_90_DEG = 90.0
ELBOW_45_SHARE = 0.4  # of a right angle's loss: 0.3 against 0.75 (handbook, from memory)
LINER_FRICTION = 2.0  # a corrugated liner against smooth pipe (handbook, from memory)
STEP = 1.12
SEARCH_KG_S = (1e-6, 50.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """A vent as a capacity table sees it.

    ``elbows_deg`` are all its elbows, those included that a table takes for granted. ``flue_m2``
    is the free area of a masonry flue, whose connector has ``diameter_m``.
    """

    height_m: float
    lateral_m: float
    diameter_m: float
    vent: str
    connector: str
    elbows_deg: tuple[float, ...] = ()
    connector_diameter_m: float | None = None
    flue_m2: float | None = None
    corrugated: bool = False
    altitude_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What the vent carries: input, what drives it and where that goes. [W, kg/s, Pa]"""

    input_w: float
    flow_kg_s: float
    lift_pa: float
    lost_pa: float
    residual_pa: float
    end_k: float


def carried_input(arrangement: Arrangement, basis: CodeBasis) -> Carried:
    """The largest input whose gas the vent just carries at no pressure where it enters. [W]

    Source: balance of pressures of a one-dimensional stream; the assumptions are the basis's.
    Valid: steady, no wind, room at outdoor pressure.

    Args:
        arrangement: the vent.
        basis: what is assumed about gas, air and losses.
    Returns:
        The input with the flow and the pressures behind it.
    Raises:
        OutOfRange: a length or size that no vent can have.
        NotSolved: the vent carries nothing on this basis: it cools too much for its height.
    """
    if not arrangement.height_m > 0.0:
        raise OutOfRange(
            f"capacity model: the height is {arrangement.height_m:g} m; above 0 is needed."
        )
    system = _system(arrangement, basis)
    par, rows = figures(system)
    flow = _largest(par, rows)
    if flow is None:
        raise NotSolved(
            "capacity model: no flow is carried. On this basis the gas cools too much, over a "
            f"lateral of {arrangement.lateral_m:.3g} m, for a height of "
            f"{arrangement.height_m:.3g} m to lift it."
        )
    par[kernel.FLUE_KG_S] = flow
    residual = kernel.rising(flow, par, rows, len(rows))
    lift, end_k = _lift(flow, par, rows)
    return Carried(
        input_w=flow / basis.kg_per_mj * 1e6,
        flow_kg_s=flow,
        lift_pa=lift,
        lost_pa=lift - residual,
        residual_pa=residual,
        end_k=end_k,
    )


def _system(given: Arrangement, basis: CodeBasis) -> Lone:
    """The arrangement as segments: the lateral as connector, then the vent."""
    connector_m = given.connector_diameter_m or given.diameter_m
    elbows = basis.elbow_90_loss * sum(_share(angle) for angle in given.elbows_deg)
    segments: list[Segment] = []
    if given.lateral_m > 0.0:
        wall = given.connector if given.connector != "none" else given.vent
        first = _stretch("connector", given.lateral_m, 0.0, connector_m, wall, basis)
        half = elbows / 2.0 if len(given.elbows_deg) > 1 else 0.0
        segments.append(replace(first, entry_loss=basis.entrance_loss + half))
        elbows -= half
    else:
        elbows += basis.entrance_loss
    segments.append(_upright(given, basis, elbows, segments[-1] if segments else None))
    flue = Flue(
        mass_kg_s=1.0,
        temperature_k=basis.gas_k,
        molar_kg_kmol=basis.molar_kg_kmol,
        cp_j_kgk=basis.cp_j_kgk,
        water=0.0,
        co2_dry=basis.co2_dry,
    )
    around = Around(
        outdoor_k=basis.air_k, room_k=basis.air_k, air_pa=isa_pressure(given.altitude_m)
    )
    return Lone(
        flue=flue,
        hood=None,
        segments=tuple(segments),
        around=around,
        cap_loss=basis.cap_loss,
        momentum=basis.momentum,
    )


def _upright(
    given: Arrangement, basis: CodeBasis, losses: float, before: Segment | None
) -> Segment:
    """The upright part; losses at its foot count on its own velocity head."""
    diameter_m, area = given.diameter_m, math.pi / 4.0 * given.diameter_m**2
    if given.flue_m2 is not None:
        area = given.flue_m2
        diameter_m = math.sqrt(area)  # four times area over perimeter of a square flue
    upright = _stretch("vent", given.height_m, given.height_m, diameter_m, given.vent, basis)
    if given.corrugated:
        upright = replace(
            upright,
            darcy=upright.darcy * LINER_FRICTION,
            roughness_m=min(upright.roughness_m * 3.0, diameter_m / 4.0),
        )
    if before is not None:
        losses *= (area / (math.pi / 4.0 * before.diameter_m**2)) ** 2 if area else 1.0
        losses += _enlarged(math.pi / 4.0 * before.diameter_m**2, area)
    return replace(upright, area_m2=area, entry_loss=losses)


def _enlarged(before_m2: float, after_m2: float) -> float:
    """Loss where the area changes, on the velocity head of the larger or smaller part after. [-]

    Source: sudden enlargement (Borda and Carnot), sudden contraction, handbook form.
    """
    if after_m2 >= before_m2:
        return (after_m2 / before_m2 - 1.0) ** 2
    return 0.5 * (1.0 - after_m2 / before_m2)


def _stretch(
    name: str, length_m: float, rise_m: float, diameter_m: float, wall: str, basis: CodeBasis
) -> Segment:
    if wall not in basis.u_w_m2k:
        raise OutOfRange(f"capacity model: wall {wall!r}; write one of {sorted(basis.u_w_m2k)}.")
    return Segment(
        name=name,
        length_m=length_m,
        rise_m=rise_m,
        diameter_m=diameter_m,
        ambient_k=basis.air_k,
        u_w_m2k=basis.u_w_m2k[wall],
        law="constant" if basis.darcy > 0.0 else "rough",
        darcy=basis.darcy,
        roughness_m=basis.roughness_m,
    )


def _share(angle_deg: float) -> float:
    """An elbow's loss as a share of that of a right angle: straight between 0, 45 and 90. [-]"""
    if not 0.0 < angle_deg <= ELBOW_90_DEG:
        raise OutOfRange(f"capacity model: elbow of {angle_deg:g} degrees; above 0, at most 90.")
    half = ELBOW_90_DEG / 2.0
    if angle_deg <= half:
        return ELBOW_45_SHARE * angle_deg / half
    return ELBOW_45_SHARE + (1.0 - ELBOW_45_SHARE) * (angle_deg - half) / half


def _largest(par: list[float], rows: list[list[float]]) -> float | None:
    """The largest flow carried, sought from above; None where none is. [kg/s]"""

    def spare(flow: float) -> float:
        par[kernel.FLUE_KG_S] = flow
        return kernel.rising(flow, par, rows, len(rows))

    least, most = SEARCH_KG_S
    high = most * min(kernel.flow_scale(par, rows, len(rows)), 1.0) * 20.0
    while spare(high) > 0.0:
        high *= 2.0
    low = high
    while low > least:
        low /= STEP
        if spare(low) > 0.0:
            break
        high = low
    else:
        return None
    for _ in range(200):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if spare(middle) > 0.0:
            low = middle
        else:
            high = middle
    return low


def _lift(flow: float, par: list[float], rows: list[list[float]]) -> tuple[float, float]:
    """What lightness gives over all segments, and the temperature at the top. [Pa, K]"""
    gas_k, molar, cp, _ = kernel.entering(flow, par)
    lift = 0.0
    for row in rows:
        gas_k, _, own, _ = kernel.stretch(flow, gas_k, molar, cp, row, par)
        lift += own
    return lift, gas_k
