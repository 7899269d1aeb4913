"""Text -> tree: JSON or YAML, read into the same nodes, or refused with the line."""

from __future__ import annotations

import json
import re
from bisect import bisect_right

from fluewright.files.nodes import TOO_DEEP, BadForm, Node, Tree, scalar
from fluewright.files.plain_in import plain_tree

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\]]|[^\s,:{}\[\]"]+', re.DOTALL)


def tree_of(text: str, is_json: bool | None = None) -> Tree:
    """The nodes of a text.

    Args:
        text: YAML or JSON.
        is_json: which of them; None: JSON if it begins with a brace and is JSON, else YAML.
    Raises:
        BadForm: it cannot be read as that.
    """
    if is_json or (is_json is None and text.lstrip()[:1] == "{"):
        try:
            _check_json(text)
        except BadForm:
            if is_json:
                raise
        else:
            return _json_tree(text)
    plain = plain_tree(text)
    if plain is not None:
        return plain
    from fluewright.files.yaml_in import yaml_tree  # others need not wait for it

    return yaml_tree(text)


def _check_json(text: str) -> None:
    """Refuse what is no JSON (RFC 8259), with the line."""

    def no_constant(name: str) -> None:
        at = next(found.start() for found in _TOKEN.finditer(text) if found[0] == name)
        message = f"{name} is no number in JSON. Write a number, or leave the key out."
        raise BadForm(message, text.count("\n", 0, at) + 1)

    try:
        json.loads(text, parse_int=str, parse_float=str, parse_constant=no_constant)
    except json.JSONDecodeError as error:
        message = f"cannot be read as JSON: {error.msg[:1].lower()}{error.msg[1:]}."
        raise BadForm(message, error.lineno) from None
    except RecursionError:
        raise BadForm(TOO_DEEP) from None


def _json_tree(text: str) -> Tree:
    """The tree of a text that is known to be JSON: its tokens alone tell the whole form."""
    tree = Tree()
    starts = [0, *(found.end() for found in re.finditer("\n", text))]
    for found in _TOKEN.finditer(text):
        row = bisect_right(starts, found.start())
        at = (row, found.start() - starts[row - 1] + 1)
        token = found[0]
        if token == "{":
            tree.open({}, at)
        elif token == "[":
            tree.open([], at)
        elif token in ("}", "]"):
            tree.close()
        elif token[0] != '"':
            tree.take(Node(scalar(token), at, token))
        else:
            plain = str(json.loads(token)) if "\\" in token else token[1:-1]
            if tree.wants_key():
                tree.take_key(plain, at)
            else:
                tree.take(Node(plain, at, plain))
    return tree
