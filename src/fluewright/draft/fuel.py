"""Fuel gases: what they are made of, their heat of combustion, the air that they need.

All per kmol of fuel. "Nitrogen" is defined in ``fluewright.draft.gas``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.draft.gas import AIR_O2, N2_KG_KMOL
from fluewright.errors import OutOfRange

# kg/kmol, abridged atomic weights of IUPAC 2021.
CARBON_KG_KMOL, HYDROGEN_KG_KMOL, OXYGEN_KG_KMOL = 12.011, 1.008, 15.999
# Heat of condensing at 25 degrees C, J per kmol of water; ISO 6976:1995, from memory.
WATER_LATENT_J_KMOL = 44.016e6
SUM_WITHIN = 1e-6  # compositions are written with at most six digits


@dataclass(frozen=True, slots=True)
class Species:
    """Atoms of a molecule, and what it gives off when it burns to liquid water at 25 C.

    ``nitrogen`` counts molecules of nitrogen. ``hhv_j_kmol`` is in J/kmol.
    """

    carbon: int
    hydrogen: int
    oxygen: int
    nitrogen: int
    hhv_j_kmol: float


# Heats of combustion: ISO 6976:1995, 25 degrees C, from memory.
SPECIES: Mapping[str, Species] = {
    "CH4": Species(1, 4, 0, 0, 890.63e6),
    "C2H6": Species(2, 6, 0, 0, 1560.69e6),
    "C3H8": Species(3, 8, 0, 0, 2219.17e6),
    "C4H10": Species(4, 10, 0, 0, 2877.40e6),  # normal; isobutane 0.3 % less
    "C5H12": Species(5, 12, 0, 0, 3535.77e6),  # normal
    "C3H6": Species(3, 6, 0, 0, 2058.02e6),  # propylene, a part of LP
    "H2": Species(0, 2, 0, 0, 285.83e6),
    "CO": Species(1, 0, 1, 0, 282.98e6),
    "N2": Species(0, 0, 0, 1, 0.0),
    "CO2": Species(1, 0, 2, 0, 0.0),
    "O2": Species(0, 0, 2, 0, 0.0),
}

_KEYS = {"title", "parts", "source", "basis"}
BASES = ("read", "memory", "computed", "assumed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fuel:
    """A gas that burns: mole fractions of its species, which add up to 1.

    Attributes:
        name: for messages and reports.
        parts: species and its mole fraction, keys of ``SPECIES``. [-]
        source: where the composition comes from.

    Raises:
        OutOfRange: an unknown or repeated species, a negative fraction, a sum other than 1, or
            nothing in it that burns.
    """

    name: str
    parts: tuple[tuple[str, float], ...]
    source: str

    def __post_init__(self) -> None:
        """No fuel stands that does not add up."""
        names = [name for name, _ in self.parts]
        unknown = [name for name in names if name not in SPECIES]
        if unknown:
            raise OutOfRange(
                f"fuel {self.name}: unknown species {', '.join(unknown)}; known are "
                f"{', '.join(SPECIES)}."
            )
        if len(set(names)) < len(names):
            raise OutOfRange(f"fuel {self.name}: a species is listed twice; add its shares up.")
        for name, share in self.parts:
            if not 0.0 <= share <= 1.0:
                raise OutOfRange(f"fuel {self.name}: {name} is {share:g}; it lies from 0 to 1.")
        total = math.fsum(share for _, share in self.parts)
        if abs(total - 1.0) > SUM_WITHIN:
            raise OutOfRange(
                f"fuel {self.name}: its mole fractions add up to {total:g}; they must give 1."
            )
        if self.air_kmol <= 0.0 or self.hhv_j_kmol <= 0.0:
            raise OutOfRange(f"fuel {self.name}: nothing in it burns with air.")

    @property
    def carbon(self) -> float:
        """Atoms of carbon."""
        return math.fsum(share * SPECIES[name].carbon for name, share in self.parts)

    @property
    def hydrogen(self) -> float:
        """Atoms of hydrogen."""
        return math.fsum(share * SPECIES[name].hydrogen for name, share in self.parts)

    @property
    def oxygen(self) -> float:
        """Atoms of oxygen."""
        return math.fsum(share * SPECIES[name].oxygen for name, share in self.parts)

    @property
    def n2(self) -> float:
        """Molecules of nitrogen."""
        return math.fsum(share * SPECIES[name].nitrogen for name, share in self.parts)

    @property
    def molar_kg_kmol(self) -> float:
        """Molar mass. [kg/kmol]"""
        return (
            self.carbon * CARBON_KG_KMOL
            + self.hydrogen * HYDROGEN_KG_KMOL
            + self.oxygen * OXYGEN_KG_KMOL
            + self.n2 * N2_KG_KMOL
        )

    @property
    def hhv_j_kmol(self) -> float:
        """Higher heating value, water condensed, 25 degrees C. [J/kmol]"""
        return math.fsum(share * SPECIES[name].hhv_j_kmol for name, share in self.parts)

    @property
    def lhv_j_kmol(self) -> float:
        """Lower heating value, water as vapor. [J/kmol]"""
        return self.hhv_j_kmol - 0.5 * self.hydrogen * WATER_LATENT_J_KMOL

    @property
    def latent(self) -> float:
        """Share of the higher heating value that leaves with water vapor. [-]"""
        return 1.0 - self.lhv_j_kmol / self.hhv_j_kmol

    @property
    def air_kmol(self) -> float:
        """Dry air that it needs. [kmol/kmol]"""
        return (self.carbon + self.hydrogen / 4.0 - self.oxygen / 2.0) / AIR_O2

    @property
    def dry_kmol(self) -> float:
        """Dry gas when it burns with just the air that it needs. [kmol/kmol]"""
        return self.carbon + self.n2 + (1.0 - AIR_O2) * self.air_kmol

    @property
    def co2_max(self) -> float:
        """Highest carbon dioxide in dry flue gas. [mol/mol]"""
        return self.carbon / self.dry_kmol


def fuels_from(data: Mapping[str, object]) -> dict[str, Fuel]:
    """Fuels by their id, from a table of entries with title, parts, source and basis.

    Args:
        data: ``{"fuel": {id: {"title", "parts", "source", "basis"}}}``.

    Raises:
        OutOfRange: an unknown or missing key, an empty source, a basis that is none of
            ``BASES``, or a composition that ``Fuel`` refuses.
    """
    table = data.get("fuel")
    if set(data) != {"fuel"} or not isinstance(table, Mapping) or not table:
        raise OutOfRange("fuels: write [fuel.id] entries and nothing else.")
    return {str(key): _fuel(str(key), entry) for key, entry in table.items()}


def _fuel(key: str, entry: object) -> Fuel:
    if not isinstance(entry, Mapping) or set(entry) != _KEYS:
        found = ", ".join(sorted(map(str, entry))) if isinstance(entry, Mapping) else "no table"
        raise OutOfRange(f"fuel {key}: has {found}; it needs {', '.join(sorted(_KEYS))}, no more.")
    for name in ("title", "source"):
        if not (isinstance(entry[name], str) and entry[name].strip()):
            raise OutOfRange(f"fuel {key}: {name} is empty.")
    if entry["basis"] not in BASES:
        raise OutOfRange(f"fuel {key}: basis {entry['basis']!r}; write {', '.join(BASES)}.")
    parts = entry["parts"]
    if not isinstance(parts, Mapping):
        raise OutOfRange(f"fuel {key}: parts must be species with their mole fractions.")
    for species, share in parts.items():
        if not isinstance(share, int | float) or isinstance(share, bool):
            raise OutOfRange(f"fuel {key}: {species} is {share!r}; write a mole fraction.")
    shares = tuple((str(species), float(share)) for species, share in parts.items())
    return Fuel(name=entry["title"], parts=shares, source=entry["source"])
