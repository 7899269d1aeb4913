"""The tables together with their index: what each is for, and where each edition prints it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fluewright.capacity.table import (
    COMMON,
    COMMON_FLUE,
    CONNECTOR,
    EXTERIOR_HOODS,
    EXTERIOR_LEAST,
    EXTERIOR_MIXED,
    HOOD_CONNECTOR,
    HOODS_COMMON,
    ON_CHIMNEY,
    CapacityTable,
    Layout,
    table_from_csv,
)
from fluewright.errors import BadEdition
from fluewright.frozen import frozen
from fluewright.source import Basis, Citation

TABLES = ("T1", "T2", "T5")
FILES = (*(f"{name}.csv" for name in TABLES), "not_confirmed.csv")


COMMON_PART = "C"  # behind the name of a table: its part for the common vent


@frozen
class Group:
    """Tables that are loaded only when a question needs them, and how each is laid out."""

    name: str
    layouts: Mapping[str, Layout]

    @property
    def index(self) -> str:
        """The file that says where each edition prints these tables."""
        return f"index_{self.name}.toml"

    @property
    def doubts(self) -> str:
        """The file of the cells not confirmed."""
        return f"not_confirmed_{self.name}.csv"

    @property
    def files(self) -> tuple[str, ...]:
        """Every file but the index."""
        return (*(f"{name}.csv" for name in self.layouts), self.doubts)


MASONRY = Group("masonry", {"T3": ON_CHIMNEY, "T4": ON_CHIMNEY, "T6": EXTERIOR_LEAST})
COMMON_VENT = Group(
    "common",
    {
        **dict.fromkeys(("M1", "M2", "M3", "M4"), CONNECTOR),
        "M5": HOOD_CONNECTOR,
        **dict.fromkeys(("M1C", "M2C"), COMMON),
        **dict.fromkeys(("M3C", "M4C"), COMMON_FLUE),
        "M5C": HOODS_COMMON,
        "M6": EXTERIOR_HOODS,
        "M7": EXTERIOR_LEAST,
        "M8": EXTERIOR_MIXED,
        "M9": EXTERIOR_LEAST,
    },
)
GROUPS = {group.name: group for group in (MASONRY, COMMON_VENT)}


@frozen
class Place:
    """Where an edition prints a table: its number, the citation, and what to know about it."""

    number: str
    citation: Citation
    note: str


@frozen
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
    least_flue_in2: Mapping[float, float]  # by the connector's diameter in inches


@frozen
class Library:
    """All tables, their index, and the sections of the rules that change a table figure."""

    tables: Mapping[str, CapacityTable]
    infos: Mapping[str, TableInfo]
    sections: Mapping[str, Mapping[str, Citation]]
    documents: Mapping[str, object]  # of the index, by edition

    @property
    def editions(self) -> tuple[str, ...]:
        """The editions that the index knows."""
        return tuple(self.documents)

    def place(self, table: str, edition: str) -> Place:
        """Where the edition prints the table.

        Raises:
            BadEdition: the index does not know the edition.
        """
        self._known(edition)
        return self.info(table).places[edition]

    def info(self, table: str) -> TableInfo:
        """What a table is for. The part for the common vent (M1C) stands in print with M1."""
        return self.infos[table.removesuffix(COMMON_PART)]

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
        documents,
    )


def extended(
    library: Library, group: Group, index: Mapping[str, object], texts: Mapping[str, str]
) -> Library:
    """The library with the tables of one group more.

    Args:
        library: what is loaded already; its documents are those of the group's index too.
        group: one of ``GROUPS``.
        index: the data of the group's index file, as read.
        texts: text of each of the group's ``files``, by file name.

    Raises:
        BadEdition: as ``library_from``.
    """
    names = tuple(name for name in group.layouts if not name.endswith(COMMON_PART))
    _whole(texts, group.files, "capacity tables")
    own = ("sections",) if "sections" in index else ()
    top = _part(index, "", ("reading", "sources", "tables", *own))
    infos = _part(top["tables"], "tables", names)
    told = {name: _info(name, infos[name], library.documents) for name in names}
    read = {
        name: table_from_csv(texts[f"{name}.csv"], name, texts[group.doubts], layout)
        for name, layout in group.layouts.items()
    }
    for name, info in told.items():
        if info.least_flue_in2:
            read[name] = replace(read[name], least_flue_in2=info.least_flue_in2)
    return replace(
        library,
        tables={**library.tables, **read},
        infos={**library.infos, **told},
        sections={
            **library.sections,
            **{
                rule: _section(rule, given, library.documents)
                for rule, given in _part(top.get("sections", {}), "sections").items()
            },
        },
    )


def _info(name: str, given: object, documents: Mapping[str, object]) -> TableInfo:
    keys: tuple[str, ...] = (
        "title", "vent", "connectors", "burners", "printed_sizes_to", "held_sizes_to",
        "oddities", "places",
    )  # fmt: skip
    at = f"tables.{name}"
    masonry = "least_flue_in2"
    if masonry in _part(given, at):
        keys = (*keys, masonry)
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
        {
            float(size): _number(area, f"{at}.{masonry}.{size}")
            for size, area in _part(table.get(masonry, {}), f"{at}.{masonry}").items()
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
