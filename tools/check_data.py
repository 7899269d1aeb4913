"""Loads every data file of the package the way the program does, and checks one against another.

``python -m tools.check_data`` prints a line for each file and exits 1 when one is wrong, or when
a file lies there that nothing reads.
"""

from __future__ import annotations

import json
import sys
import tomllib
from collections.abc import Callable, Iterator
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

from jsonschema import Draft202012Validator, SchemaError

from fluewright import __version__, app, capacity
from fluewright.app.steps import procedures
from fluewright.draft.coefficients import coefficients_from
from fluewright.errors import FluewrightError
from fluewright.files import survey_from_text
from fluewright.files.physics import code_bases, default_fuels
from fluewright.files.schema import schema_text
from fluewright.files.tools import default_tools
from fluewright.files.write import survey_to_text
from fluewright.render.data import judgement_data
from fluewright.rules import RULES

DATA = Path(app.DATA)
FONT_MAGIC = {".ttf": b"\x00\x01\x00\x00", ".woff2": b"wOF2"}


class Wrong(Exception):
    """What is wrong with a file that loads."""


def expect(found: object, wanted: object, what: str) -> None:
    """Complain when two things that must agree do not."""
    if found != wanted:
        raise Wrong(f"{what}: found {found!r}, expected {wanted!r}")


def an_edition(path: Path) -> str:
    edition = app.edition(path.stem)
    expect(edition.id, path.stem, "id in the file")
    stated = set(edition.requirements) | {id for id, _, _ in edition.unexamined}
    expect(sorted(set(RULES) - stated), [], "rules of which the edition says nothing")
    absent = sum(bool(one.absent) for one in edition.requirements.values())
    return (
        f"{len(edition.requirements)} requirements ({absent} absent), {len(edition.limits)} limits,"
        f" {len(edition.unexamined)} places not examined"
    )


@cache
def all_tables() -> capacity.Library:
    return app.tables_with(*capacity.GROUPS)


def a_table(path: Path) -> str:
    names = {*capacity.FILES, "index.toml"}
    for group in capacity.GROUPS.values():
        names |= {*group.files, group.index}
    if path.name not in names:
        raise Wrong(f"no loader asks for it; those asked for: {', '.join(sorted(names))}")
    table = all_tables().tables.get(path.stem)
    if table is None:
        return "loads with the tables"
    return f"{len(table.values)} entries, {len(table.missing)} never read, {len(table.doubts)} open"


def rule_words(path: Path) -> str:
    expect(list(app.prose()), list(RULES), "rules with words")
    return f"words for all {len(RULES)} rules load"


def a_survey(path: Path) -> str:
    job = app.read_job(str(path))
    again = survey_from_text(survey_to_text(job.survey), path.name)
    expect(again == job.survey, True, "the same survey after writing and reading")
    missing = [p.file for p in job.survey.photos if not (path.parent / p.file).is_file()]
    expect(missing, [], "photos that are not there")
    judgements = app.judge_job(job, app.edition_ids())
    schema = json.loads((DATA / "schema" / "judgement.schema.json").read_text(encoding="utf-8"))
    for judgement in judgements:
        data = judgement_data(judgement, __version__)
        for error in Draft202012Validator(schema).iter_errors(data):
            raise Wrong(f"its judgement breaks the schema: {error.json_path}: {error.message}")
    counts = (f"{len(one.findings)} findings by {one.edition.id}" for one in judgements)
    return f"reads, writes, reads the same; {', '.join(counts)}"


def a_schema(path: Path) -> str:
    text = path.read_text(encoding="utf-8")
    try:
        Draft202012Validator.check_schema(json.loads(text))
    except SchemaError as error:
        raise Wrong(f"not a schema: {error.json_path}: {error.message}") from None
    if path.name.startswith("survey"):
        expect(text == schema_text(), True, "the same as the reader's own schema")
    return "a valid JSON Schema"


def tools_table(path: Path) -> str:
    return f"{len(default_tools())} tools"


def physics_table(path: Path) -> str:
    found = coefficients_from(tomllib.loads(path.read_text(encoding="utf-8")))
    return f"{len(found.numbers)} coefficients, {len(found.curves)} curves, each with its source"


def fuels_table(path: Path) -> str:
    return f"{len(default_fuels())} fuels"


def bases_table(path: Path) -> str:
    found = code_bases()
    return f"{len(found)} bases, {sum(len(one.fitted) for one in found.values())} figures fitted"


def a_font(path: Path) -> str:
    expect(path.read_bytes()[:4], FONT_MAGIC[path.suffix], "first bytes")
    return "font"


def a_photo(path: Path) -> str:
    surveys = (DATA / "demo").glob("*.yaml")
    if not any(path.name in survey.read_text(encoding="utf-8") for survey in surveys):
        raise Wrong("no demo survey shows it")
    return "shown by a demo survey"


def a_procedure(path: Path) -> str:
    found = procedures()[path.stem]
    return f"{len(found.steps)} steps, {sum(bool(s.rules) for s in found.steps)} of them judged"


def plain_text(path: Path) -> str:
    return f"{len(path.read_text(encoding='utf-8').splitlines())} lines"


CHECKS: dict[str, Callable[[Path], str]] = {
    "editions/*.toml": an_edition,
    "procedures/*.toml": a_procedure,
    "tables/*": a_table,
    "rules/*.toml": rule_words,
    "demo/*.yaml": a_survey,
    "demo/photos/*.jpg": a_photo,
    "templates/*.yaml": a_survey,
    "schema/*.json": a_schema,
    "tools.toml": tools_table,
    "physics/coefficients.toml": physics_table,
    "physics/house.toml": physics_table,
    "physics/fuels.toml": fuels_table,
    "physics/bases.toml": bases_table,
    "fonts/*.ttf": a_font,
    "fonts/*.woff2": a_font,
    "*.md": plain_text,
    "fonts/OFL.txt": plain_text,
}


def results(data: Path = DATA) -> Iterator[tuple[str, str, bool]]:
    """Each file's name, what came out, and whether it is right."""
    for path in sorted(path for path in data.rglob("*") if path.is_file()):
        name = path.relative_to(data).as_posix()
        check = next((check for like, check in CHECKS.items() if fnmatch(name, like)), None)
        if check is None:
            yield name, "nothing here reads it", False
            continue
        try:
            yield name, check(path), True
        except (FluewrightError, Wrong, ValueError) as error:  # the rest are faults of this file
            yield name, str(error), False


def main() -> int:
    """Print all results. The exit status."""
    wrong = 0
    for name, text, right in results():
        wrong += not right
        print(f"{name}: {text}" if right else f"WRONG {name}: {text}")
    print(f"{wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
