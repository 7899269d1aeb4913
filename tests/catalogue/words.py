"""Text of a check to tokens."""

from __future__ import annotations

import re
from dataclasses import dataclass

TOKEN = re.compile(
    r"\s*(?:(?P<pair>\d+x\d+)|(?P<number>\d+\.?\d*)|'(?P<quoted>\w+)'"
    r"|(?P<name>[A-Za-z_]\w*)|(?P<sign><=|>=|==|!=|[<>:;(){}\[\],.+*/-]))"
)


class BadCheck(Exception):
    """A text that is no check."""


@dataclass(frozen=True, slots=True)
class Token:
    """Kind (pair, number, quoted, name, sign, end) and text."""

    kind: str
    text: str


def tokens(text: str) -> list[Token]:
    """The tokens of a check, with an end token last.

    Raises:
        BadCheck: something stands there that is no token.
    """
    found: list[Token] = []
    at = 0
    while text[at:].strip():
        match = TOKEN.match(text, at)
        if match is None or match.lastgroup is None:
            raise BadCheck(f"no token at: {text[at:]}")
        found.append(Token(match.lastgroup, match[match.lastgroup]))
        at = match.end()
    return [*found, Token("end", "")]
