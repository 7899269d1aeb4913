"""YAML 1.2 -> tree. Tags and a second document are refused: a survey needs neither."""

from __future__ import annotations

import re

from ruamel.yaml import YAML
from ruamel.yaml import events as kinds
from ruamel.yaml.error import MarkedYAMLError

from fluewright.files.nodes import BadForm, Node, Place, Tree, scalar


def yaml_tree(text: str) -> Tree:
    """The tree of a YAML text."""
    tree = Tree()
    documents = 0
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            documents += _take(tree, event)
            if documents > 1:
                line = event.start_mark.line + 1
                raise BadForm('a second document begins here. Take out the "---".', line)
    except MarkedYAMLError as error:
        raise _in_our_words(error) from None
    return tree


def _take(tree: Tree, event: kinds.Event) -> bool:
    """Add what one event of the YAML parser brings; whether it begins a document."""
    mark = event.start_mark
    at = (mark.line + 1, mark.column + 1)
    if isinstance(event, kinds.NodeEvent):
        _refuse(event, tree, at)
    if isinstance(event, kinds.ScalarEvent):
        if tree.wants_key():
            tree.take_key(event.value, at)
        else:
            value = scalar(event.value) if event.implicit[0] else event.value
            tree.take(Node(value, at, event.value), event.anchor)
    elif isinstance(event, kinds.MappingStartEvent):
        tree.open({}, at, event.anchor)
    elif isinstance(event, kinds.SequenceStartEvent):
        tree.open([], at, event.anchor)
    elif isinstance(event, kinds.CollectionEndEvent):
        tree.close()
    elif isinstance(event, kinds.AliasEvent):
        tree.alias(event.anchor, at)
    return isinstance(event, kinds.DocumentStartEvent)


def _refuse(event: kinds.NodeEvent, tree: Tree, at: Place) -> None:
    """Refuse what YAML has and a survey does not: tags, and keys that are no plain text."""
    tag = getattr(event, "tag", None)
    if tag is not None:
        shown = tag.replace("tag:yaml.org,2002:", "!!")
        raise BadForm(f"{shown} is a tag, which a survey does not use. Take it out.", at[0])
    if tree.wants_key() and not hasattr(event, "value"):
        raise BadForm("a key is expected here, such as title: or kind:.", at[0], tree.around())


# What the YAML parser says -> what a person can do about it. The first that matches is shown.
_SAYINGS: tuple[tuple[str, str], ...] = (
    (r"found character '\\t'", "a tab stands where a line begins. Indent with spaces."),
    (r"found character '(.)'", 'a text cannot begin with {0}. Put it in quotes: "{0}...".'),
    (
        "mapping values are not allowed",
        'a ":" stands where none can. Look at the indent, and put a text that has ": " '
        "in it in quotes.",
    ),
    ("mapping keys are not allowed", 'a "?" needs quotes. Write "? and why".'),
    ("sequence entries are not allowed", 'a "- " begins here where none can. Look at the indent.'),
    (
        "could not find expected ':'",
        'on line {line}, no ":" follows what seems to be a key. Write key: value.',
    ),
    (
        r"expected ',' or '[\]}]'",
        'the bracket opened on line {line} is not closed, or a "," is missing.',
    ),
    (
        "expected <block end>",
        "this does not go on from line {line}. Look at the indent, and put the whole "
        "of a text in quotes or nothing of it.",
    ),
    ("found unexpected end of stream", "the quote opened on line {line} is not closed."),
    (
        "unknown escape character '(.)'",
        'in double quotes, "\\{0}" means nothing. Write "\\\\{0}", or use single quotes.',
    ),
    (r"expected the node content, but found '\?'", 'a "?" needs quotes. Write "? and why".'),
)


def _in_our_words(error: MarkedYAMLError) -> BadForm:
    """The fault that stopped the YAML parser."""
    mark = error.problem_mark or error.context_mark
    begun = error.context_mark or mark
    problem = str(error.problem)
    for pattern, saying in _SAYINGS:
        found = re.search(pattern, f"{error.context}: {problem}")
        if found:
            text = saying.format(*found.groups(), problem=problem, line=begun.line + 1)
            return BadForm(text, mark.line + 1)
    return BadForm(f"cannot be read as YAML: {problem}.", mark.line + 1)
