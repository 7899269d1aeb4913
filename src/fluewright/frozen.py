"""`frozen`: a frozen, slotted data class whose methods need not be compiled at every start.

``dataclasses.dataclass`` writes source text for six methods of each class and compiles it when the
class is made: with some two hundred classes that is a third of the time of a short command. Here
the methods are ordinary functions that know the names of the fields. What they do is the same, and
``fields``, ``replace``, ``is_dataclass``, ``match``, copying and pickling work as with any data
class. See docs/decisions/0009-a-short-start.md.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform, overload

_T = TypeVar("_T")
_Put = Callable[[Any, Any], None]


@overload
def frozen(made: type[_T], /) -> type[_T]: ...
@overload
def frozen(*, kw_only: bool) -> Callable[[type[_T]], type[_T]]: ...
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(made: Any = None, /, *, kw_only: bool = False) -> Any:
    """The class as a frozen data class with slots.

    It is what ``dataclass(frozen=True, slots=True)`` makes, save that all fields take part in
    ``__init__`` and ``repr`` and that ``__eq__`` and ``__hash__`` look at the same fields.

    Args:
        made: the class; None where the decorator is written with brackets.
        kw_only: whether the fields are given by name alone.
    """
    if made is None:
        return lambda one: _frozen(one, kw_only)
    return _frozen(made, kw_only)


def _frozen(made: type[Any], kw_only: bool) -> type[Any]:
    making = dataclass(init=False, repr=False, eq=False, slots=True, kw_only=kw_only)
    whole: type[Any] = making(made)
    parts = fields(whole)
    own = made.__dict__
    methods: dict[str, object] = {
        "__init__": _init(whole, parts),
        "__setattr__": _no_setting,
        "__delattr__": _no_deleting,
        "__getstate__": _state,
        "__setstate__": _set_state,
    }
    if "__repr__" not in own:
        methods["__repr__"] = _shown
    if "__eq__" not in own:
        methods["__eq__"] = _equal(_values(part.name for part in parts if part.compare))
    if own.get("__hash__") is None:
        hashed = (p.name for p in parts if (p.compare if p.hash is None else p.hash))
        methods["__hash__"] = _hashed(_values(hashed))
    for name, method in methods.items():
        setattr(whole, name, method)
    return whole


def _init(whole: type[Any], parts: tuple[Field[Any], ...]) -> Callable[..., None]:
    """Sets each field by its place, else by its name, else to its default; then looks at all."""
    parts = (*(p for p in parts if not p.kw_only), *(p for p in parts if p.kw_only))
    puts: dict[str, _Put] = {part.name: getattr(whole, part.name).__set__ for part in parts}
    places = tuple(puts[part.name] for part in parts if not part.kw_only)
    count, most = len(parts), len(places)
    defaults = tuple(part.default for part in parts)
    # From here on every field has a plain default, and a place.
    least = max((i + 1 for i, p in enumerate(parts) if p.default is MISSING), default=0)
    least = least if most == count else count
    looks = hasattr(whole, "__post_init__")

    def init(self: Any, *args: Any, **named: Any) -> None:
        given = len(args)
        if given > most:
            raise TypeError(f"{whole.__name__} takes {most} values by place, {given} are given.")
        if least <= given < count and not named:
            args += defaults[given:]
            given = count
        for put, value in zip(places, args):  # noqa: B905 - fewer is all right: see _rest
            put(self, value)
        for name, value in named.items():
            if name not in puts:
                raise TypeError(f"{whole.__name__} has no field {name}.")
            puts[name](self, value)
        if given + len(named) != count or (given and named):
            _rest(self, parts, given, named)
        if looks:
            self.__post_init__()

    return init


def _rest(self: Any, parts: tuple[Field[Any], ...], given: int, named: dict[str, Any]) -> None:
    """Sets what was given neither by place nor by name to its default."""
    for part in parts[:given]:
        if part.name in named:
            raise TypeError(f"{type(self).__name__} is given {part.name} twice.")
    for part in parts[given:]:
        if part.name in named:
            continue
        value = part.default
        if value is MISSING:
            if part.default_factory is MISSING:
                raise TypeError(f"{type(self).__name__} needs a value for {part.name}.")
            value = part.default_factory()
        object.__setattr__(self, part.name, value)


def _values(names: Iterable[str]) -> Callable[[Any], object]:
    """What reads the values of some fields, as one thing that compares and hashes as they do."""
    listed = tuple(names)
    if len(listed) > 1:
        return attrgetter(*listed)
    return lambda one: tuple(getattr(one, name) for name in listed)


def _equal(values: Callable[[Any], object]) -> Callable[[Any, object], bool]:
    def equal(self: Any, other: object) -> bool:
        return (
            values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented
        )

    return equal


def _hashed(values: Callable[[Any], object]) -> Callable[[Any], int]:
    def hashed(self: Any) -> int:
        return hash(values(self))

    return hashed


def _shown(self: Any) -> str:
    inside = ", ".join(f"{part.name}={getattr(self, part.name)!r}" for part in fields(self))
    return f"{type(self).__qualname__}({inside})"


def _no_setting(self: object, name: str, value: object) -> None:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _no_deleting(self: object, name: str) -> None:
    raise FrozenInstanceError(f"cannot delete field {name!r}")


def _state(self: Any) -> list[object]:
    return [getattr(self, part.name) for part in fields(self)]


def _set_state(self: Any, state: list[object]) -> None:
    for part, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, part.name, value)
