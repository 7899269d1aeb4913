"""The fast reader of plain YAML: what it accepts is what the full reader makes of the same text."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluewright.files.nodes import BadForm, Tree
from fluewright.files.plain_in import plain_tree
from fluewright.files.yaml_in import yaml_tree

ROOT = Path(__file__).parents[1]
DATA = ROOT / "src" / "fluewright" / "data"
SHIPPED = [*sorted((DATA / "demo").glob("*.yaml")), *sorted((DATA / "templates").glob("*.yaml"))]
# A text with a letter that none may hold is refused before either reader sees it.
TEXTS = [
    text
    for path in (*SHIPPED, *sorted((ROOT / "tests" / "surveys").rglob("*.yaml")))
    if (text := path.read_text(encoding="utf-8")).replace("\n", "").isprintable()
]
# Signs of YAML and what stands near them in surveys, to be put anywhere.
BITS = [
    *" \n:#-?,[]{}'\"\\&*!|>%@`~<=.0aZ_é°(/+", "  ", "\n  ", ": ", " #", "- ", "\n- ", "{a: b}",
    "[a, b]", "{}", "[]", "a:", "null", "---\n", "\n...\n", "'x'", '"x"', "{a: [b, {c: d}]}",
    "x: y", "? x", "\n\n", "\n# c\n", "{b: c,d: e}", "{a:b}", "{a: ,b: c}", "[a,]", "-1", "-.5",
    "-a", "<<: x", "1e3", "0o7", "&a ", "*a", "!!str ", "|\n  x", ">\n  x", "- - a", "''", '""',
]  # fmt: skip


def full(text: str) -> Tree | None:
    try:
        return yaml_tree(text)
    except BadForm:
        return None


def agree(text: str) -> bool:
    """Whether the fast reader accepts it; fails where the full one reads it otherwise."""
    plain = plain_tree(text)
    if plain is None:
        return False
    whole = full(text)
    assert whole is not None, text
    assert plain.root == whole.root, text
    assert plain.faults == whole.faults, text
    return True


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
def test_all_surveys_that_ship_are_plain(path: Path) -> None:
    assert agree(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    "text",
    [
        "a: 1",
        "a:",
        "a:\nb: 2",
        "a:   # nothing\nb: 2  # two",
        "a:\n- 1\n- b: 2\n  c: 3\nd: 4",
        "a:\n  - 1\n  - [x, {y: z}]\n",
        "a:\n  b:\n    c:\nd: e",
        "a: 'x: #y'\nb: \"it's\"",
        "a: b:c#d",
        "a: 1\na: 2",
        "a:\n  - b:\n      c: 1\n    b: 2",
        "# first\n\na: 5 in ± 1/8 in\n  # deep\nb: ~\n",
        "a: {}\nb: []\nc: { d: [ 1 , 2 ] }",
        "a: -5 Pa\nb: -.5\nc: +1\nd: .5",
        "a: null\nb: true\nc: No",
    ],
)
def test_plain_texts_are_accepted(text: str) -> None:
    assert agree(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "# nothing",
        "1",
        "- a",
        " a: 1",
        "a: 1\n b: 2",
        "a: x\n  y",
        "a:\n  x",
        "a: b: c",
        "a: x:",
        "a: &x 1\nb: *x",
        "a: !!str 1",
        "a: |\n  x",
        "a: 'it''s'",
        'a: "\\n"',
        "a: [1,\n 2]",
        "a: {b}",
        "a: [b: c]",
        "a: [1, 2,]",
        "a: {b: c",
        "a: [b] c",
        "a: 'b' c",
        "a: ? x",
        "a:\t1",
        "---\na: 1",
        "a: 1\n...",
        "a: 1\n- b",
        "a:\n  - 1\n - 2",
        "a:\n  -",
        "a:\n  - - 1",
        '"a": 1',
        "a : 1",
        "{a: 1}",
        "a: %x",
        "a: @x",
    ],
)
def test_all_else_is_left_to_the_full_reader(text: str) -> None:
    assert plain_tree(text) is None


def changed(seed: int) -> str:
    """A few lines of a survey, changed at random here and there."""
    draw = random.Random(seed)
    lines = draw.choice(TEXTS).split("\n")
    start = draw.randrange(len(lines))
    some = lines[start : start + draw.randint(1, 9)]
    left = min((len(one) - len(one.lstrip()) for one in some if one.strip()), default=0)
    text = "\n".join(one[left:] for one in some)
    for _ in range(draw.randint(1, 4)):
        at = draw.randrange(len(text) + 1)
        gone = draw.choice([0, 0, 0, 1, 2, 3])
        bit = "" if gone and draw.random() < 0.5 else draw.choice(BITS)
        text = text[:at] + bit + text[at + gone :]
    return text


@settings(max_examples=200)
@given(st.integers(0, 2**40))
def test_the_two_readers_never_differ(seed: int) -> None:
    for shift in range(20):
        agree(changed(seed + shift))


def test_that_comparison_is_no_empty_one() -> None:
    assert sum(agree(changed(seed)) for seed in range(1000)) > 100
