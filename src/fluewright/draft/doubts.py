"""What a survey tells of a vent that no figure of the engine holds, and that goes before them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubts:
    """Why a computed draft may not be relied on, each in words for people.

    Attributes:
        spills: what was seen to let flue gas into the room: a test, an open outlet.
        past: signs that it has spilled before.
        grave: what was seen that can stop the vent and is not in the figures.
        unseen: what nobody looked at and that can stop the vent.
        tested: a spillage test with the house closed and its fans on was passed.
    """

    spills: tuple[str, ...] = ()
    past: tuple[str, ...] = ()
    grave: tuple[str, ...] = ()
    unseen: tuple[str, ...] = ()
    tested: bool = False

    @property
    def any(self) -> bool:
        """Whether there is a doubt that takes precedence over a computed draft."""
        return bool(self.spills or self.past or self.grave or self.unseen)
