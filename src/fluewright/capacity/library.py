"""The tables together with their index: what each is for, and where each edition prints it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.capacity.table import CapacityTable, table_from_csv
from fluewright.errors import BadEdition
from fluewright.source import Basis, Citation

TABLES = ("T1", "T2", "T5")
FILES = (*(f"{name}.csv" for name in TABLES), "not_confirmed.csv")


@dataclass(frozen=True, slots=True)
class Place:
    """Where an edition prints a table: its number, the citation, and what to know about it."""

    number: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class TableInfo:
    """What a table is for, and its places by edition id."""

    id: str
    title: str
    vent: str
    connectors: tuple[str, ...]
    burners: tuple[str, ...]
    printed_sizes_to: float
    held_sizes_to: float
    oddities: tuple[str, ...]
    places: Mapping[str, Place]


@dataclass(frozen=True, slots=True)
class Library:
    """All tables, their index, and the sections of the rules that change a table figure."""

    tables: Mapping[str, CapacityTable]
    infos: Mapping[str, TableInfo]
    sections: Mapping[str, Mapping[str, Citation]]
    editions: tuple[str, ...]

    def place(self, table: str, edition: str) -> Place:
        """Where the edition prints the table.

        Raises:
            BadEdition: the index does not know the edition.
        """
        self._known(edition)
        return self.infos[table].places[edition]

    def section(self, rule: str, edition: str) -> Citation:
        """Where the edition has a rule that changes a table figure.

        Raises:
            BadEdition: the index does not know the edition.
        """
        self._known(edition)
        return self.sections[rule][edition]

    def _known(self, edition: str) -> None:
        if edition not in self.editions:
            raise BadEdition(
                f"capacity tables: no edition {edition!r} in the index. "
                f"Give one of {', '.join(self.editions)}."
            )


def library_from(index: Mapping[str, object], texts: Mapping[str, str]) -> Library:
    """All tables with their index.

    Args:
        index: the data of ``data/tables/index.toml``, as read.
        texts: text of each file of ``FILES``, by file name.

    Raises:
        BadEdition: a file, table, edition, key or section is absent, unknown or of the wrong
            kind; every edition must be given for every table and section.
    """
    _whole(texts, FILES, "capacity tables")
    top = _part(index, "", ("reading", "sources", "documents", "tables", "sections"))
    documents = _part(top["documents"], "documents")
    editions = tuple(documents)
    infos = _part(top["tables"], "tables", TABLES)
    return Library(
        {
            name: table_from_csv(texts[f"{name}.csv"], name, texts["not_confirmed.csv"])
            for name in TABLES
        },
        {name: _info(name, infos[name], documents) for name in TABLES},
        {
            rule: _section(rule, given, documents)
            for rule, given in _part(top["sections"], "sections").items()
        },
        editions,
    )


def _info(name: str, given: object, documents: Mapping[str, object]) -> TableInfo:
    keys = (
        "title", "vent", "connectors", "burners", "printed_sizes_to", "held_sizes_to",
        "oddities", "places",
    )  # fmt: skip
    at = f"tables.{name}"
    table = _part(given, at, keys)
    places = _part(table["places"], f"{at}.places", tuple(documents))
    return TableInfo(
        name,
        _text(table["title"], f"{at}.title"),
        _text(table["vent"], f"{at}.vent"),
        _texts(table["connectors"], f"{at}.connectors"),
        _texts(table["burners"], f"{at}.burners"),
        _number(table["printed_sizes_to"], f"{at}.printed_sizes_to"),
        _number(table["held_sizes_to"], f"{at}.held_sizes_to"),
        _texts(table["oddities"], f"{at}.oddities"),
        {
            edition: _place(places[edition], f"{at}.places.{edition}", documents[edition])
            for edition in documents
        },
    )


def _place(given: object, at: str, document: object) -> Place:
    """The place of a table; it names its document itself where that is another one."""
    place = {"base": "", "note": "", **_part(document, "documents"), **_part(given, at)}
    if "note" not in _part(given, at):
        place["note"] = ""
    _whole(place, ("document", "edition", "basis", "number", "base", "note"), f"index.toml {at}")
    number = _text(place["number"], f"{at}.number")
    return Place(
        number,
        Citation(
            _text(place["document"], f"{at}.document"),
            _text(place["edition"], f"{at}.edition"),
            f"Table {number}",
            _basis(_part(given, at).get("basis"), f"{at}.basis"),
            str(place["base"]),
        ),
        str(place["note"]),
    )


def _section(rule: str, given: object, documents: Mapping[str, object]) -> Mapping[str, Citation]:
    at = f"sections.{rule}"
    section = _part(given, at, ("what", *documents))
    found: dict[str, Citation] = {}
    for edition, given_document in documents.items():
        document = _part(
            given_document, f"documents.{edition}", ("document", "edition", "basis", "note")
        )
        found[edition] = Citation(
            _text(document["document"], f"documents.{edition}.document"),
            _text(document["edition"], f"documents.{edition}.edition"),
            _text(section[edition], f"{at}.{edition}"),
            _basis(document["basis"], f"documents.{edition}.basis"),
        )
    return found


def _part(given: object, at: str, keys: tuple[str, ...] = ()) -> Mapping[str, object]:
    """A table of the index; with ``keys``, exactly these must stand in it."""
    if not isinstance(given, Mapping):
        raise BadEdition(f"index.toml {at}: found {given!r}. Write a table of keys and values.")
    if keys:
        _whole(given, keys, f"index.toml {at}".rstrip())
    return given


def _whole(given: Mapping[str, object], keys: tuple[str, ...], at: str) -> None:
    absent, unknown = sorted(set(keys) - set(given)), sorted(set(given) - set(keys))
    if absent:
        raise BadEdition(f"{at}: {', '.join(absent)} is missing. Add it.")
    if unknown:
        raise BadEdition(f"{at}: {', '.join(unknown)} is unknown. Known: {', '.join(keys)}.")


def _text(given: object, at: str) -> str:
    if not isinstance(given, str) or not given.strip():
        raise BadEdition(f"index.toml {at}: found {given!r}. Write a text that is not empty.")
    return given


def _texts(given: object, at: str) -> tuple[str, ...]:
    if not isinstance(given, list):
        raise BadEdition(f"index.toml {at}: found {given!r}. Write a list of texts.")
    return tuple(_text(one, at) for one in given)


def _number(given: object, at: str) -> float:
    if not isinstance(given, int | float) or isinstance(given, bool):
        raise BadEdition(f"index.toml {at}: found {given!r}. Write a number of inches.")
    return float(given)


def _basis(given: object, at: str) -> Basis:
    if given not in (Basis.READ.value, Basis.MEMORY.value):
        raise BadEdition(f"index.toml {at}: found {given!r}. Write read or memory.")
    return Basis(str(given))
