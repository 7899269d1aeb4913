"""An appliance as the gas that it gives off and as its draft hood."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.draft.combustion import flue, idle, rise_for_efficiency
from fluewright.draft.fuel import Fuel
from fluewright.draft.survey_model.inputs import Assumed, Book, Figure, Values
from fluewright.draft.survey_model.stretch import Bore, Loss
from fluewright.draft.system import Flue, Hood
from fluewright.quantity import Measured
from fluewright.survey import Appliance, Survey

FUEL_IDS: Mapping[str, str] = {"natural gas": "natural_gas", "propane": "propane"}
REFUSED: Mapping[str, str] = {
    "direct_vent": "It takes its air from outdoors in a sealed system.",
    "power_vented": "A fan drives its vent under pressure.",
    "condensing": "A fan drives its cold, wet gas under pressure.",
}
# Above this altitude plates are derated by 4 percent for each 1000 ft (UMC 2012, fuel gas
# appliances at high altitude; from memory).
DERATED_FROM_M, DERATE_A_M = 2000.0 * 0.3048, 0.04 / (1000.0 * 0.3048)
HIGHEST_M = 2500.0
FRESH_PPM = 180_000.0  # more oxygen is no flue gas
# Relief of a hood whose outlet nobody measured: a trade size less or more, (3/4)2 to (5/4)2.
UNKNOWN_OUTLET = 1.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Flame:
    """One appliance as figures that move with the inputs.

    Attributes:
        fuel: what it burns.
        input_w: heat rate of the plate or the meter, on the higher heating value. [W]
        rate: what it really burns over that; None where it was clocked. [-]
        co2_dry, o2_dry: of the flue gas before any hood; one of them. [mol/mol]
        efficiency: by flue loss, on the higher heating value. [-]
        outlet: its flue collar, or the first piece where that is not known.
        relief: effective relief area over that of the outlet; None without a hood. [-]
        plume: height over which gas in the hood lifts. [m]
    """

    fuel: Fuel
    input_w: Figure
    rate: Figure | None
    co2_dry: Figure | None
    o2_dry: Figure | None
    efficiency: Figure
    outlet: Bore
    relief: Figure | None
    plume: Figure | None

    def flue(
        self, values: Values, *, room_k: float, room_water: float, firing: bool = True
    ) -> Flue:
        """Gas before any dilution.

        Args:
            values: of the inputs, by name.
            room_k: of the air that feeds the flame. [K]
            room_water: mole fraction of water vapor in it. [-]
            firing: False for an appliance that stands idle.
        """
        if not firing:
            return idle(room_k=room_k, room_water=room_water)
        burnt = self.input_w.at(values)
        if self.rate is not None:
            burnt = burnt * self.rate.at(values)
        co2 = None if self.co2_dry is None else self.co2_dry.at(values)
        o2 = None if self.o2_dry is None else self.o2_dry.at(values)
        rise = rise_for_efficiency(
            self.fuel, efficiency=self.efficiency.at(values), air_k=room_k,
            co2_dry=co2, o2_dry=o2, room_water=room_water,
        )  # fmt: skip
        return flue(
            self.fuel, input_w=burnt, temperature_k=room_k + rise,
            co2_dry=co2, o2_dry=o2, room_k=room_k, room_water=room_water,
        )  # fmt: skip

    def hood(self, values: Values) -> Hood | None:
        """Draft hood; None for a fan-assisted appliance."""
        if self.relief is None or self.plume is None:
            return None
        area = self.relief.at(values) * self.outlet.area_m2(values)
        return Hood(relief_m2=area, plume_m=self.plume.at(values))


def flame_of(
    survey: Survey, name: str, first: Bore, fuels: Mapping[str, Fuel], book: Book
) -> tuple[Flame, Bore | None, tuple[Loss, ...]]:
    """An appliance, the bore of its outlet where it is known, and the loss on leaving it.

    Args:
        survey: what was seen.
        name: of the appliance.
        first: bore of the first piece of its connector.
        fuels: by id, from ``data/physics/fuels.toml``.
        book: takes what was used, assumed or is missing.
    """
    appliance = survey.appliances[name]
    outlet = None
    if isinstance(appliance.outlet_diameter, Measured) and appliance.outlet_diameter.low > 0.0:
        outlet = Bore(diameter=book.reading(appliance.outlet_diameter))
        outlet = first if outlet == first else outlet
    hooded = _hooded(appliance, name, book)
    co2, o2 = _reading(appliance, hooded, book)
    widen = 1.0 if outlet is not None else UNKNOWN_OUTLET
    input_w, rate = _input(survey, appliance, name, book)
    flame = Flame(
        fuel=_fuel(appliance, name, fuels, book),
        input_w=input_w,
        rate=rate,
        co2_dry=co2,
        o2_dry=o2,
        efficiency=book.coefficient("flue.efficiency"),
        outlet=first if outlet is None else outlet,
        relief=book.coefficient("hood.relief_to_outlet_area", widen=widen) if hooded else None,
        plume=book.coefficient("hood.plume") if hooded else None,
    )
    if outlet is None:
        book.note(
            Assumed(
                what=f"outlet of {name}",
                taken="as wide as the first piece of its connector, a trade size more or less",
                measure="read or measure the collar (outlet_diameter)",
            )
        )
    if not hooded:
        return flame, outlet, ()
    on = None if outlet is None or outlet == first else outlet
    return flame, outlet, (Loss(coefficient=book.coefficient("hood.entrance_loss"), on=on),)


def _hooded(appliance: Appliance, name: str, book: Book) -> bool:
    """Whether it has a draft hood; what has no draft of its own is refused."""
    kind = appliance.draft
    if kind is None:
        how = "Say draft_hood or fan_assisted: look for the relief opening of a hood (draft)."
        book.lacks(name, "how its gas is driven", how)
    elif kind in REFUSED:
        book.lacks(name, "a natural draft", f"{REFUSED[kind]} This engine computes natural draft.")
    elif appliance.direct_vent is True:
        book.lacks(name, "a natural draft", REFUSED["direct_vent"])
    hood = appliance.hood
    if kind != "draft_hood":
        return False
    if hood is not None and hood.present is False:
        how = "The survey says that its draft hood is missing. Put the hood back first."
        book.lacks(name, "what its gas enters", how)
    return True


def _fuel(appliance: Appliance, name: str, fuels: Mapping[str, Fuel], book: Book) -> Fuel:
    """What it burns by its data plate: what the house is supplied with need not be that."""
    word = appliance.fuel
    if word is None:
        book.lacks(name, "fuel", "Read the data plate: natural gas or propane.")
        word = "natural gas"
    return fuels[FUEL_IDS[word]]


def _input(
    survey: Survey, appliance: Appliance, name: str, book: Book
) -> tuple[Figure, Figure | None]:
    """Heat rate as clocked, else as on the plate with what burners are off it."""
    gas = appliance.setting.gas if appliance.setting else None
    clocked = gas.rate if gas else None
    label = f"heat rate of {name}"
    if isinstance(clocked, Measured) and clocked.low > 0.0:
        return book.own(clocked, f"{name}.input", f"{label}, clocked at the meter", "W"), None
    if not isinstance(appliance.input, Measured) or appliance.input.low <= 0.0:
        how = "Read the data plate, or clock it at the gas meter."
        return book.lacks(name, "heat input", how), None
    plate = book.own(appliance.input, f"{name}.input", f"{label} on its data plate", "W")
    usual = book.coefficients.numbers["flue.rate_to_plate"]
    elevation = survey.site.elevation
    highest = elevation.high if isinstance(elevation, Measured) else HIGHEST_M
    derated = max(0.5, 1.0 - DERATE_A_M * highest) if highest > DERATED_FROM_M else 1.0
    rate = book.number(
        "flue.rate_to_plate", "heat rate over that of the data plate",
        (usual.low * derated, usual.value, usual.high), "1", f"assumed: {usual.source}",
    )  # fmt: skip
    book.note(
        Assumed(
            what=f"heat rate of {name} in use",
            taken=f"{usual.low * derated:.2f} to {usual.high:.2f} of its data plate",
            measure="clock it at the gas meter, that appliance alone running",
        )
    )
    return plate, rate


def _reading(appliance: Appliance, hooded: bool, book: Book) -> tuple[Figure | None, Figure | None]:
    """Carbon dioxide by default, oxygen where it was read."""
    oxygen = appliance.checks.flue_oxygen if appliance.checks else None
    if isinstance(oxygen, Measured) and oxygen.high > FRESH_PPM:
        how = "The reading of oxygen is nearly that of fresh air: read it in the flue gas."
        book.lacks("flue gas", "what the flame burns with", how)
    elif isinstance(oxygen, Measured):
        label = "oxygen of the flue gas before any draft hood"
        ends = (max(oxygen.low, 0.0), max(oxygen.value, 0.0), oxygen.high)
        low, value, high = (ppm * 1e-6 for ppm in ends)
        return None, book.number("flue.o2_dry", label, (low, value, high), "mol/mol")
    book.note(
        Assumed(
            what="excess air of the flame",
            taken="that of ordinary appliances, by their carbon dioxide",
            measure="read oxygen in the flue gas before the draft hood",
        )
    )
    return book.coefficient("flue.co2_dry" if hooded else "flue.fan_co2_dry"), None
