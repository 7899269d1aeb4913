"""Writes the generated pages of docs/; ``--check`` names those that are out of date.

``python -m tools.docs`` writes; ``python -m tools.docs --check`` changes nothing and exits 1.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path

from tools import validation
from tools.doc_coefficients import coefficients_page
from tools.doc_commands import commands_page
from tools.doc_rules import SUBJECTS, editions_page, index_page, rule_page
from tools.doc_steps import steps_page
from tools.doc_survey import sections, tools
from tools.edition_pairs import judged_demos
from tools.edition_pairs import page as differences_page
from tools.markdown import table

from fluewright import app
from fluewright.drawing.measure import FIGURES, MEASURED
from fluewright.explain import Explanation, explanation
from fluewright.render.svg import to_svg
from fluewright.rules import RULES

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
PROSE = ROOT / "src" / "fluewright" / "data" / "rules"
TOOLS = (
    "Under `tools` a kind of reading names its tool: `length: tape`. The tolerance holds where the "
    "survey writes none; the instrument's own sheet replaces it."
)
FIELDS = "<!-- fields: from here on made by `make docs`; do not edit -->"


def pages(docs: Path = DOCS) -> dict[str, str]:
    """Every generated page: its name below docs/ and its text.

    Raises:
        ValueError: docs/survey.md lacks the mark below which its fields are written.
    """
    editions = [app.edition(name) for name in app.edition_ids()]
    prose = app.prose()
    explained = {id: explanation(rule, prose[id], editions) for id, rule in RULES.items()}
    made = {f"rules/{id}.md": rule_page(e, MEASURED.get(id)) for id, e in explained.items()}
    for name, figure in FIGURES.items():
        made[f"rules/figures/{name}.svg"] = to_svg(figure.scene(), embed_fonts=False)
    made["rules/index.md"] = index_page(_by_subject(explained))
    made["editions.md"] = editions_page(editions)
    made["edition-differences.md"] = differences_page(editions, judged_demos())
    made["commands.md"] = commands_page()
    made["coefficients.md"] = coefficients_page()
    made["steps.md"] = steps_page()
    made["survey.md"] = _survey_page((docs / "survey.md").read_text(encoding="utf-8"))
    made["validation.md"] = validation.page()
    return made


def _by_subject(explained: Mapping[str, Explanation]) -> dict[str, list[Explanation]]:
    """Explanations by the file that their words stand in."""
    groups: dict[str, list[Explanation]] = {}
    for subject in SUBJECTS:
        data = tomllib.loads((PROSE / f"{subject}.toml").read_text(encoding="utf-8"))
        groups[subject] = [found for id, found in explained.items() if id in data]
    left = set(explained) - {e.id for group in groups.values() for e in group}
    if left:
        raise ValueError(f"no subject of tools/doc_rules.py holds {', '.join(sorted(left))}")
    return groups


def _survey_page(text: str) -> str:
    """The hand-written introduction as it stands, and the fields below its mark."""
    if FIELDS not in text:
        raise ValueError(f"docs/survey.md: the line {FIELDS} is missing. Put it at its end.")
    lines = [text[: text.index(FIELDS)] + FIELDS]
    for section in sections():
        lines += ["", f"### {section.at}" if section.at else "### The file", "", section.intro, ""]
        lines += table(
            ("field", "what to write", "what it is"),
            ((f"`{row.key}`", row.kind, row.words) for row in section.rows),
        )
    lines += ["", "## Tools", "", TOOLS, ""]
    lines += table(("tool", "reads", "tolerance", "how known", "what it is"), tools())
    return "\n".join([*lines, ""]).replace("``", "`")


def faults(docs: Path = DOCS) -> list[str]:
    """What is out of date, one line each."""
    made = pages(docs)
    found = [
        f"docs/{name} is {'out of date' if (docs / name).exists() else 'missing'}: run make docs"
        for name, text in made.items()
        if not (docs / name).exists() or (docs / name).read_text(encoding="utf-8") != text
    ]
    return found + [f"docs/{name} belongs to no rule: run make docs" for name in _stale(docs, made)]


def _stale(docs: Path, made: Mapping[str, str]) -> list[str]:
    held = [*docs.glob("rules/*.md"), *docs.glob("rules/figures/*")]
    names = sorted(path.relative_to(docs).as_posix() for path in held)
    return [name for name in names if name not in made]


def write(docs: Path = DOCS) -> None:
    """Write every page that differs, and take out those that belong to no rule."""
    made = pages(docs)
    for name, text in made.items():
        page = docs / name
        page.parent.mkdir(parents=True, exist_ok=True)
        if not page.exists() or page.read_text(encoding="utf-8") != text:
            page.write_text(text, encoding="utf-8")
    for name in _stale(docs, made):
        (docs / name).unlink()


def main(arguments: list[str]) -> int:
    """Write the pages, or with --check compare them. The exit status."""
    if arguments == ["--check"]:
        found = faults()
        for line in found:
            print(line, file=sys.stderr)
        return 1 if found else 0
    if arguments:
        print("usage: python -m tools.docs [--check]", file=sys.stderr)
        return 2
    write()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
