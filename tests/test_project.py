"""What must hold of the project as a whole: its files, its locked packages, its shape."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "fluewright"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
LOCKS = sorted((ROOT / "requirements").glob("*.txt"))
CODE = [path for path in sorted(PACKAGE.rglob("*.py")) if PACKAGE / "data" not in path.parents]

LONGEST_MODULE = 450
LONGEST_FUNCTION = 60

# Spelled in parts, so that this file passes its own test.
NEVER = [f"/{folder}/" for folder in ("work", "farm", "root")] + [
    "pypi" + ".org",
    "files." + "pythonhosted",
    ".npmjs" + ".org",
]


def tracked(*under: str) -> list[str]:
    """Files that git holds, as paths from the root."""
    command = ["git", "ls-files", "-z", "--", *under]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, text=True)
    return [name for name in done.stdout.split("\0") if name and (ROOT / name).is_file()]


def short(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def pins(lock: Path) -> dict[str, str]:
    """Package name to locked version."""
    return dict(re.findall(r"^([a-z0-9-]+)==(\S+)", lock.read_text(encoding="utf-8"), re.M))


def test_no_file_names_a_place_on_somebodys_machine_or_a_registry() -> None:
    files = tracked()
    assert "pyproject.toml" in files
    hits = [
        f"{name}: {word}"
        for name in files
        for word in NEVER
        if word.encode() in (ROOT / name).read_bytes()
    ]
    assert hits == []


@pytest.mark.parametrize("lock", LOCKS, ids=short)
def test_locked_file_has_only_names_versions_and_hashes(lock: Path) -> None:
    odd = [
        line
        for line in lock.read_text(encoding="utf-8").splitlines()
        if not re.fullmatch(
            r"[a-z0-9-]+==[0-9][\w.]*( ; [\w. <>='!]+)? \\|    --hash=sha256:[0-9a-f]{64}( \\)?",
            line,
        )
    ]
    assert odd == []
    assert pins(lock)


def test_what_runs_is_locked_and_the_same_in_development() -> None:
    runtime, dev = pins(ROOT / "requirements/runtime.txt"), pins(ROOT / "requirements/dev.txt")
    needed = {re.split(r"[\[>=<]", line)[0] for line in PROJECT["project"]["dependencies"]}
    assert needed <= runtime.keys()
    assert runtime.items() <= dev.items()


@pytest.mark.parametrize("path", CODE, ids=short)
def test_module_is_short_enough_to_read(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines < LONGEST_MODULE, f"{short(path)} has {lines} lines"


@pytest.mark.parametrize("path", CODE, ids=short)
def test_functions_are_short_enough_to_read(path: Path) -> None:
    long = [
        f"{node.name} (line {node.lineno}): {lines} lines"
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (lines := (node.end_lineno or node.lineno) - node.lineno + 1) >= LONGEST_FUNCTION
    ]
    assert long == []


@pytest.mark.slow
def test_the_wheel_holds_every_file_of_the_package(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    subprocess.run(build, cwd=ROOT, capture_output=True, check=True)
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        held = set(archive.namelist())
    assert {name.removeprefix("src/") for name in tracked("src/fluewright")} - held == set()


def test_no_rule_or_fact_names_an_edition() -> None:
    editions = sorted(path.stem for path in (ROOT / "src/fluewright/data/editions").glob("*.toml"))
    assert len(editions) >= 7
    families = sorted({name.split("_")[0].rstrip("0123456789") for name in editions})
    named = re.compile(rf"['\"](?:{'|'.join(editions)}|{'|'.join(families)})['\"]", re.IGNORECASE)
    for folder in ("rules", "facts", "capacity"):
        for path in sorted((ROOT / "src/fluewright" / folder).rglob("*.py")):
            found = named.findall(path.read_text(encoding="utf-8"))
            assert not found, f"{path.name} names {found}"


def test_an_edition_holds_figures_words_and_places_alone() -> None:
    said = {"value", "unit", "rows", "steps", "word", "at", "basis", "base", "document", "edition"}
    for path in sorted((ROOT / "src/fluewright/data/editions").glob("*.toml")):
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        assert set(data) == {"edition", "requirement", "limit", "unexamined"} or set(data) == {
            "edition", "requirement", "limit"
        }  # fmt: skip
        for name, entry in data["requirement"].items():
            assert set(entry) in ({"cites"}, {"absent"}), name
            for cite in entry.get("cites", ()):
                assert set(cite) <= said, name
        for key, limit in data["limit"].items():
            assert set(limit) - said <= {"by", "beyond"}, f"{path.stem} {key}: {set(limit) - said}"
