"""Checks of the catalogue's language, read into functions.

``WHEN applicability : condition``, several joined by semicolon; AND, OR, NOT, comparisons, IN;
ANY, ALL, COUNT over lists; IF THEN ELSE; val, lookup, result, step, min, max, sum, ceil, ASK;
``DOUBT p FOR q``; REPORT_ONLY. Written from the description of that language alone: nothing here
knows how the product judges.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from typing import Protocol

from tests.catalogue.values import (
    BARRED,
    NONE,
    UNKNOWN,
    Value,
    all_of,
    any_of,
    compared,
    count_of,
    every,
    listed,
    negated,
    some,
    within,
)
from tests.catalogue.words import BadCheck, Token, tokens

SIZES = (3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 22, 24)
SIGNS = ("<=", ">=", "==", "!=", "<", ">")


class Env(Protocol):
    """What a check may look at."""

    local: dict[str, Value]

    def fact(self, name: str) -> Value:
        """Value of a fact; ``name[field]`` for a field of one."""

    def lookup(self, table: str, keys: tuple[Value, ...]) -> Value:
        """Cell of a table."""

    def column(self, table: str, keys: tuple[Value, ...], name: str) -> Value:
        """A named column of the row that the keys find."""

    def result(self, rule: str) -> Value:
        """Verdict of another check on the same facts; UNKNOWN where it is unknown."""


Expr = Callable[[Env], Value]


@dataclass(slots=True)
class Check:
    """A check, and what it names."""

    clauses: list[tuple[Expr, Expr | None]] = field(default_factory=list)  # None: report only
    doubts: list[tuple[str, str]] = field(default_factory=list)  # (p, q): p in place of q
    facts: set[str] = field(default_factory=set)
    fields: set[tuple[str, str]] = field(default_factory=set)
    words: set[str] = field(default_factory=set)
    rules: set[str] = field(default_factory=set)
    numbers: set[float] = field(default_factory=set)


class Parser:
    """One pass over the tokens of one check."""

    def __init__(self, text: str, facts: Collection[str]) -> None:
        self.tokens: list[Token] = tokens(text)
        self.at = 0
        self.known = facts
        self.variables: dict[str, set[str]] = {}  # and the words that each stands for, if fixed
        self.check = Check()

    def peek(self) -> Token:
        return self.tokens[self.at]

    def take(self) -> Token:
        self.at += 1
        return self.tokens[self.at - 1]

    def accept(self, text: str) -> bool:
        """Whether this sign or keyword stands next; takes it."""
        token = self.peek()
        if token.text != text or token.kind not in ("sign", "name"):
            return False
        self.at += 1
        return True

    def expect(self, text: str) -> None:
        if not self.accept(text):
            rest = " ".join(t.text for t in self.tokens[self.at :])
            raise BadCheck(f"{text} expected at: {rest}")

    def name(self) -> str:
        token = self.take()
        if token.kind != "name":
            raise BadCheck(f"a name expected, {token.text!r} found")
        return token.text

    def parse(self) -> Check:
        """The whole check.

        Raises:
            BadCheck: the text is none.
        """
        while True:
            self.clause()
            if not self.accept(";"):
                break
        if self.peek().kind != "end":
            raise BadCheck(f"unexpected {self.peek().text!r}")
        return self.check

    def clause(self) -> None:
        if self.accept("DOUBT"):
            instead = self.fact_name()
            self.expect("FOR")
            self.check.doubts.append((instead, self.fact_name()))
            return
        self.expect("WHEN")
        applies = self.either()
        self.expect(":")
        body = None if self.accept("REPORT_ONLY") else self.either()
        self.check.clauses.append((applies, body))

    def fact_name(self) -> str:
        name = self.name()
        if name not in self.known:
            raise BadCheck(f"{name} is no fact")
        self.check.facts.add(name)
        return name

    def either(self) -> Expr:
        parts = [self.both()]
        while self.accept("OR"):
            parts.append(self.both())
        if len(parts) == 1:
            return parts[0]
        return lambda env: some(part(env) for part in parts)

    def both(self) -> Expr:
        parts = [self.maybe_not()]
        while self.accept("AND"):
            parts.append(self.maybe_not())
        if len(parts) == 1:
            return parts[0]
        return lambda env: every(part(env) for part in parts)

    def maybe_not(self) -> Expr:
        if self.accept("NOT"):
            inner = self.maybe_not()
            return lambda env: negated(inner(env))
        return self.comparison()

    def comparison(self) -> Expr:
        left = self.sum()
        token = self.peek()
        if token.kind == "sign" and token.text in SIGNS:
            sign = self.take().text
            right = self.sum()
            return lambda env: compared(sign, left(env), right(env))
        if self.accept("IN"):
            members = self.members()
            return lambda env: within(left(env), members(env))
        if token.text == "NOT" and self.tokens[self.at + 1].text == "IN":
            self.at += 2
            outside = self.members()
            return lambda env: negated(within(left(env), outside(env)))
        return left

    def members(self) -> Expr:
        """What IN looks into: words in braces, or a list."""
        if not self.accept("{"):
            return self.factor()
        found: list[Value] = []
        while True:
            found.append(self.word(self.take()))
            if not self.accept(","):
                break
        self.expect("}")
        fixed = tuple(found)
        return lambda env: fixed

    def word(self, token: Token) -> Value:
        if token.kind not in ("name", "quoted"):
            raise BadCheck(f"a word expected, {token.text!r} found")
        if token.text == "none":
            return NONE
        self.check.words.add(token.text)
        return token.text

    def sum(self) -> Expr:
        left = self.product()
        while self.peek().text in ("+", "-") and self.peek().kind == "sign":
            left = arithmetic(self.take().text, left, self.product())
        return left

    def product(self) -> Expr:
        left = self.factor()
        while self.peek().text in ("*", "/") and self.peek().kind == "sign":
            left = arithmetic(self.take().text, left, self.factor())
        return left

    def factor(self) -> Expr:
        if self.accept("-"):
            inner = self.factor()
            return arithmetic("-", lambda env: 0.0, inner)
        if self.accept("("):
            inside = self.either()
            self.expect(")")
            return inside
        if self.accept("["):
            self.expect("]")
            return lambda env: ()
        token = self.take()
        if token.kind == "number":
            number = float(token.text)
            self.check.numbers.add(number)
            return lambda env: number
        if token.kind == "pair":
            first, second = (float(side) for side in token.text.split("x"))
            self.check.numbers |= {first, second}
            return lambda env: (first, second)
        if token.kind == "quoted":
            word = self.word(token)
            return lambda env: word
        if token.kind == "name":
            return self.named(token)
        raise BadCheck(f"unexpected {token.text!r}")

    def named(self, token: Token) -> Expr:
        """A function, a variable, a fact, or a word."""
        name = token.text
        if name == "TRUE":
            return lambda env: True
        if name == "IF":
            return self.choice()
        if self.peek().text == "(" and self.peek().kind == "sign":
            self.at += 1
            made = self.call(name)
            self.expect(")")
            return self.column(made) if self.accept(".") else made
        if name in self.variables:
            return lambda env: env.local[name]
        if name in self.known:
            self.check.facts.add(name)
            return self.field(name) if self.accept("[") else lambda env: env.fact(name)
        word = self.word(token)
        return lambda env: word

    def field(self, name: str) -> Expr:
        key = self.name()
        self.expect("]")
        if key in self.variables:
            self.check.fields |= {(name, word) for word in self.variables[key]}
            return lambda env: env.fact(f"{name}[{env.local[key]}]")
        self.check.fields.add((name, key))
        return lambda env: env.fact(f"{name}[{key}]")

    def choice(self) -> Expr:
        test = self.either()
        self.expect("THEN")
        then = self.sum()
        self.expect("ELSE")
        otherwise = self.sum()

        def chosen(env: Env) -> Value:
            so = test(env)
            if so is not UNKNOWN:
                return then(env) if so is True else otherwise(env)
            either = then(env), otherwise(env)
            return either[0] if either[0] == either[1] else UNKNOWN

        return chosen

    def column(self, row: Expr) -> Expr:
        name = self.name()

        def cell(env: Env) -> Value:
            env.local["."] = name
            try:
                return row(env)
            finally:
                del env.local["."]

        return cell

    def call(self, name: str) -> Expr:
        if name in ("ANY", "ALL", "COUNT"):
            return self.quantified(name)
        if name == "ASK":
            asked = self.either()
            return lambda env: UNKNOWN if asked(env) is not False else False
        if name == "result":
            rule = self.name()
            self.check.rules.add(rule)
            return lambda env: env.result(rule)
        if name == "lookup":
            return self.lookup()
        arguments = [self.sum()]
        while self.accept(","):
            arguments.append(self.sum())
        if name not in FUNCTIONS:
            raise BadCheck(f"no function {name}")
        function = FUNCTIONS[name]
        return lambda env: function(*(one(env) for one in arguments))

    def quantified(self, name: str) -> Expr:
        variable = self.name()
        self.expect("IN")
        before = self.at
        members = self.members()
        fixed = {token.text for token in self.tokens[before : self.at] if token.kind == "name"}
        self.variables[variable] = fixed if self.tokens[before].text == "{" else set()
        self.expect(":")
        test = self.either()
        del self.variables[variable]
        combine = {"ANY": any_of, "ALL": all_of, "COUNT": count_of}[name]

        def found(env: Env) -> Value:
            def of(member: Value) -> Value:
                env.local[variable] = member
                return test(env)

            return combine(members(env), of)

        return found

    def lookup(self) -> Expr:
        table = self.name()
        while self.accept("."):
            table = f"{table}.{self.name()}"
        keys: list[Expr] = []
        while self.accept(","):
            keys.append(self.sum())

        def cell(env: Env) -> Value:
            given = tuple(key(env) for key in keys)
            column = env.local.get(".")
            if isinstance(column, str):
                return env.column(table, given, column)
            return env.lookup(table, given)

        return cell


def arithmetic(sign: str, left: Expr, right: Expr) -> Expr:
    """Plus, minus, times, divided by; unknown with unknown."""

    def worked(env: Env) -> Value:
        a, b = left(env), right(env)
        for side in (a, b):
            if side is BARRED:
                return BARRED
        if a in (UNKNOWN, NONE) or b in (UNKNOWN, NONE):
            return UNKNOWN
        if not isinstance(a, int | float) or not isinstance(b, int | float):
            raise TypeError(f"{a!r} {sign} {b!r}")
        if sign == "/":
            return a / b if b else UNKNOWN
        return a + b if sign == "+" else a - b if sign == "-" else a * b

    return worked


def val(value: Value, otherwise: Value) -> Value:
    """The number, or the other where it was read and is silent."""
    return otherwise if value is NONE else value


def step(large: Value, small: Value) -> Value:
    """Table sizes from the small one up to the large one; within 1/32 in is the size."""
    places = []
    for size in (large, small):
        near = [
            i
            for i, s in enumerate(SIZES)
            if isinstance(size, float) and abs(s - size) <= 1 / 32 + 1e-9
        ]
        if not near:
            return UNKNOWN
        places.append(near[0])
    return float(places[0] - places[1])


def of_numbers(work: Callable[..., float]) -> Callable[..., Value]:
    """A function of numbers as one of values: unknown with unknown."""

    def worked(*given: Value) -> Value:
        if any(one in (UNKNOWN, NONE) for one in given):
            return UNKNOWN
        return float(work(*given))

    return worked


def total(members: Value) -> Value:
    """Sum of a list of numbers."""
    if members is UNKNOWN:
        return UNKNOWN
    numbers = listed(members)
    return UNKNOWN if UNKNOWN in numbers else float(sum(numbers))  # type: ignore[arg-type]


FUNCTIONS: dict[str, Callable[..., Value]] = {
    "val": val,
    "step": step,
    "min": of_numbers(min),
    "max": of_numbers(max),
    "ceil": of_numbers(lambda x: math.ceil(x - 1e-9)),
    "sum": total,
}


def parse(text: str, facts: Collection[str]) -> Check:
    """A check from its text.

    Args:
        text: the check.
        facts: names that are facts; any other bare name is a word.
    Raises:
        BadCheck: the text is no check.
    """
    return Parser(text, facts).parse()
