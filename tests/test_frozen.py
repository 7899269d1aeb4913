"""What `frozen` makes is what the standard library's own frozen data class with slots is."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from dataclasses import FrozenInstanceError, dataclass, field, fields, is_dataclass, replace

import pytest

from fluewright.frozen import frozen


@frozen
class Ours:
    name: str
    size: float = 1.0
    notes: dict[str, int] = field(default_factory=dict, hash=False)
    mark: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Theirs:
    name: str
    size: float = 1.0
    notes: dict[str, int] = field(default_factory=dict, hash=False)
    mark: str = field(default="", compare=False)


@frozen(kw_only=True)
class OursByName:
    name: str
    size: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TheirsByName:
    name: str
    size: float = 1.0


@frozen
class OursLonger(Ours):
    more: int = 0


@frozen
class Empty:
    pass


@frozen
class Looks:
    size: float

    def __post_init__(self) -> None:
        if self.size < 0:
            raise ValueError("below zero")


GIVEN: list[tuple[tuple[object, ...], dict[str, object]]] = [
    (("a",), {}),
    (("a", 2.0), {}),
    (("a", 2.0, {"x": 1}, "m"), {}),
    (("a",), {"size": 2.0}),
    (("a",), {"mark": "m"}),
    ((), {"size": 2.0, "name": "a"}),
    ((), {"mark": "m", "notes": {}, "size": 0.0, "name": "a"}),
]
WRONG: list[tuple[tuple[object, ...], dict[str, object]]] = [
    ((), {}),
    ((), {"size": 2.0}),
    (("a",), {"name": "b"}),
    (("a",), {"other": 1}),
    (("a",), {"name": "b", "size": 1.0, "notes": {}, "mark": ""}),
    (("a", 2.0, {}, "m", 5), {}),
    (("a", 2.0, {}, "m"), {"mark": "n"}),
]


def values(one: object) -> list[object]:
    return [getattr(one, part.name) for part in fields(one)]  # type: ignore[arg-type]


@pytest.mark.parametrize(("args", "named"), GIVEN)
def test_the_same_fields_and_text(args: tuple[object, ...], named: dict[str, object]) -> None:
    make: Callable[..., Ours] = Ours
    like: Callable[..., Theirs] = Theirs
    ours, theirs = make(*args, **named), like(*args, **named)
    assert values(ours) == values(theirs)
    assert repr(ours) == repr(theirs).replace("Theirs", "Ours")
    assert hash(ours) == hash(theirs)
    assert ours == make(*args, **named)


@pytest.mark.parametrize(("args", "named"), WRONG)
@pytest.mark.parametrize("made", [Ours, Theirs])
def test_the_same_refusals(
    made: Callable[..., object], args: tuple[object, ...], named: dict[str, object]
) -> None:
    with pytest.raises(TypeError):
        made(*args, **named)


@pytest.mark.parametrize("made", [OursByName, TheirsByName])
def test_by_name_alone(made: Callable[..., object]) -> None:
    with pytest.raises(TypeError):
        made("a")
    assert values(made(size=2.0, name="a")) == ["a", 2.0]


def test_equal_only_to_its_own_kind_and_by_the_compared_fields() -> None:
    assert Ours("a", mark="x") == Ours("a", mark="y")
    assert Ours("a") != Ours("b")
    assert Ours("a") != Theirs("a")
    assert Ours("a") != OursLonger("a")
    assert hash(Ours("a", notes={"x": 1})) == hash(Ours("a", notes={"x": 2}))
    nan = float("nan")
    assert (Looks(nan) == Looks(nan)) is ((nan,) == (nan,))  # as in a tuple: the same object


@pytest.mark.parametrize("name", ["name", "size"])
@pytest.mark.parametrize("one", [Ours("a"), Theirs("a")])
def test_nothing_can_be_set_or_taken_away(one: object, name: str) -> None:
    with pytest.raises(FrozenInstanceError, match=f"cannot assign to field '{name}'"):
        setattr(one, name, 1)
    with pytest.raises(FrozenInstanceError, match=f"cannot delete field '{name}'"):
        delattr(one, name)


def test_nothing_can_be_added() -> None:
    with pytest.raises(FrozenInstanceError):
        Ours("a").other = 1  # type: ignore[attr-defined]
    assert not hasattr(Ours("a"), "__dict__")


def test_the_tools_of_dataclasses_work() -> None:
    one = Ours("a", 2.0, {"x": 1})
    assert is_dataclass(Ours)
    assert [part.name for part in fields(Ours)] == ["name", "size", "notes", "mark"]
    assert replace(one, name="b") == Ours("b", 2.0, {"x": 1})
    with pytest.raises(TypeError):
        replace(one, other=1)  # type: ignore[call-arg]
    match one:
        case Ours(name, size):
            assert (name, size) == ("a", 2.0)


@pytest.mark.parametrize("one", [Ours("a", 2.0, {"x": 1}), OursLonger("a", more=3), Empty()])
def test_copies_and_pickles(one: object) -> None:
    assert copy.copy(one) == one
    assert copy.deepcopy(one) == one
    assert pickle.loads(pickle.dumps(one)) == one


def test_each_has_defaults_of_its_own() -> None:
    assert Ours("a").notes is not Ours("a").notes


def test_inherited_fields_come_first() -> None:
    assert values(OursLonger("a", 2.0, {}, "m", 7)) == ["a", 2.0, {}, "m", 7]
    assert repr(Empty()) == "Empty()"
    assert Empty() == Empty()
    assert hash(Empty()) == hash(Empty())


def test_it_looks_at_what_it_was_given() -> None:
    with pytest.raises(ValueError, match="below zero"):
        Looks(-1.0)
    with pytest.raises(ValueError, match="below zero"):
        replace(Looks(1.0), size=-1.0)
