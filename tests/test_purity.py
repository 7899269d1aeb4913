"""The core touches no file, clock, network, chance or changing global, and needs no package.

import-linter holds the layers and the known packages; this walks the syntax trees, so that a
module nobody has listed anywhere is held to it too.
"""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "fluewright"
EDGE = {"__init__", "__main__", "ensemble", "files", "render", "app", "api", "cli"}

# What a core module may use of the standard library. A name may join when it reads no file,
# clock or network, draws nothing by chance and keeps no state.
PURE = {
    "__future__", "abc", "bisect", "collections", "dataclasses", "decimal", "enum", "fractions",
    "functools", "graphlib", "hashlib", "heapq", "itertools", "math", "operator", "re",
    "string", "textwrap", "types", "typing", "unicodedata",
}  # fmt: skip
CALLS = {"open", "print", "input", "eval", "exec", "compile", "__import__", "breakpoint"}

# These two must run where only ruamel.yaml can be had, such as in a browser.
PORTABLE = {"files", "render.svg"}


def module_name(path: Path) -> str:
    """Dotted name below the package: ``render.svg``; a package's own file bears its name."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if len(parts) > 1 and parts[-1] == "__init__" else parts)


MODULES = {module_name(path): path for path in sorted(PACKAGE.rglob("*.py"))}
CORE = [name for name in MODULES if name.split(".")[0] not in EDGE]


def imported(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and top-level name of each import from outside the package."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            names = [node.module or ""]
        else:
            continue
        tops = {name.split(".")[0] for name in names}
        yield from ((node.lineno, top) for top in sorted(tops - {"fluewright"}))


def impurities(text: str) -> list[str]:
    """What a core module may not do, one line each."""
    tree = ast.parse(text)
    found = [f"line {line}: imports {top}" for line, top in imported(tree) if top not in PURE]
    for node in ast.walk(tree):
        if isinstance(node, ast.Global):
            found.append(f"line {node.lineno}: changes a global")
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLS:
            found.append(f"line {node.lineno}: calls {node.func.id}()")
    return found


@pytest.mark.parametrize("name", CORE)
def test_core_module_is_pure(name: str) -> None:
    assert impurities(MODULES[name].read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("import os", "line 1: imports os"),
        ("from pathlib import Path", "line 1: imports pathlib"),
        ("def f():\n    import datetime as d", "line 2: imports datetime"),
        ("import pydantic.types", "line 1: imports pydantic"),
        ("x = open('y')", "line 1: calls open()"),
        ("def f():\n    global x\n    x = 1", "line 2: changes a global"),
    ],
)
def test_what_is_impure_is_found(text: str, fault: str) -> None:
    assert impurities(text) == [fault]


def test_what_is_pure_is_left_alone() -> None:
    assert impurities("import math\nfrom fluewright.errors import Fault\nfrom . import x") == []


def test_every_core_module_stands_in_the_contract_on_purity() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    (contract,) = (
        contract
        for contract in project["tool"]["importlinter"]["contracts"]
        if contract["name"].startswith("the core")
    )
    tops = {"fluewright." + name.split(".")[0] for name in CORE}
    assert tops == set(contract["source_modules"])


@pytest.mark.parametrize(
    "name", [n for n in MODULES if n in PORTABLE or n.split(".")[0] in PORTABLE]
)
def test_portable_module_imports_only_ruamel(name: str) -> None:
    allowed = {*sys.stdlib_module_names, "ruamel"}
    tree = ast.parse(MODULES[name].read_text(encoding="utf-8"))
    assert [found for found in imported(tree) if found[1] not in allowed] == []


def run_without(absent: set[str], program: str) -> subprocess.CompletedProcess[str]:
    """A fresh Python in which some packages are not to be had."""
    block = f"import sys\nsys.modules.update(dict.fromkeys({sorted(absent)!r}))\n"
    command = [sys.executable, "-c", block + program]
    return subprocess.run(command, capture_output=True, check=False, text=True)


OUTSIDE = {"click", "numpy", "PIL", "pydantic", "typst"}


def test_a_survey_is_read_judged_and_drawn_with_ruamel_alone() -> None:
    done = run_without(
        OUTSIDE,
        "from fluewright import app\n"
        "job = app.read_job(app.DATA + '/demo/otter-bend.yaml')\n"
        "(judgement,) = app.judge_job(job)\n"
        "assert judgement.findings\n"
        "print(app.elevation_svg(job, judgement, 'letter', 'us').count('<svg'))\n",
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "1\n", "")


def test_the_command_starts_without_what_only_reports_and_files_need() -> None:
    done = run_without(
        {*(OUTSIDE - {"click"}), "ruamel"},
        "from fluewright.cli import main\nmain(['--help'], prog_name='fluewright')\n",
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Usage: fluewright")


def test_a_judgement_waits_for_nothing_that_it_does_not_use() -> None:
    parts = (
        "drawing", "draft", "ensemble", "explain", "amendment", "report.whole", "report.tree",
        "files.write", "files.schema", "files.yaml_in", "render.html", "render.pdf", "render.svg",
    )  # fmt: skip
    done = run_without(
        {*(OUTSIDE - {"click"}), "ruamel", *(f"fluewright.{part}" for part in parts)},
        "from fluewright import app\n"
        "from fluewright.cli import main\n"
        "main(['judge', app.DATA + '/demo/otter-bend.yaml'], prog_name='fluewright')\n",
    )
    assert (done.returncode, done.stderr) == (1, "")
    assert done.stdout


def test_what_is_not_to_be_had_is_really_absent() -> None:
    assert "ModuleNotFoundError" in run_without({"click"}, "import fluewright.cli").stderr
