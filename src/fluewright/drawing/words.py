"""What is lettered on a sheet: lengths, pieces and joints in short words."""

from __future__ import annotations

import math
from typing import Literal

from fluewright.drawing.metrics import fraction
from fluewright.quantity import (
    Dimension,
    Measured,
    fraction_text,
    show,
    show_difference,
    show_pitch,
)
from fluewright.survey import Joint, Piece

Style = Literal["us", "metric"]
SIXTEENTH_M = 0.0254 / 16

WALL_WORDS = {
    "single": "single wall",
    "type_b": "Type B",
    "type_l": "Type L",
    "type_bw": "Type B-W",
    "special": "special gas vent",
    "listed_connector": "listed connector",
    "corrugated": "corrugated",
    "foil": "foil duct",
    "plastic_listed": "plastic, listed",
    "plastic_unlisted": "plastic, not listed",
    "asbestos_cement": "asbestos cement",
    "masonry": "masonry",
    "factory_built_chimney": "factory-built chimney",
    "metal_chimney": "metal chimney",
    "unknown": "wall not known",
}
PART_WORDS = {
    "straight": "pipe",
    "run": "run",
    "elbow": "elbow",
    "reducer": "reducer",
    "tee": "tee",
    "wye": "wye",
    "adapter": "adapter",
    "cap": "cap",
}
FASTENING_WORDS = {
    "listed_lock": "listed lock",
    "rivets": "rivets",
    "tape_only": "tape alone",
    "friction_only": "pushed together",
    "open": "open",
    "screws": "screws",
}


def wall_of(piece: Piece) -> str:
    """Kind of wall, ``unknown`` where nobody could tell."""
    return piece.wall if isinstance(piece.wall, str) else "unknown"


def value_text(value: Measured, style: Style) -> str:
    """A reading without its bound; an estimate says so."""
    text = fraction(show(value.value, value.dimension, style))
    return f"≈ {text}" if value.tool == "estimated" else text


def bound_text(value: Measured, style: Style) -> str:
    """The bound of a reading, empty where it has none or is an estimate."""
    if value.tolerance == 0.0:
        return ""
    bound = value.tolerance * (1 - 1e-9)  # a sum of bounds is not rounded up for its last bit
    sixteenths = math.ceil(bound / SIXTEENTH_M - 1e-6)
    if style == "us" and value.dimension is Dimension.LENGTH and 1 <= sixteenths < 16:
        return "± " + fraction(f"{fraction_text(sixteenths / 16)} in")  # as a tape is read
    return "± " + fraction(show_difference(bound, value.dimension, style, up=True))


def slope_text(value: object, style: Style) -> str:
    """A slope as it is said on site; a question mark where nobody measured it."""
    if not isinstance(value, Measured):
        return "slope ?"
    if value.value < 0:
        return "falls " + fraction(show(-value.value, Dimension.SLOPE, style))
    return fraction(show(value.value, Dimension.SLOPE, style))


def pitch_text(value: object, style: Style) -> str:
    """A roof pitch: rise in 12, with degrees where the sheet is metric."""
    if not isinstance(value, Measured):
        return "pitch ?"
    return show_pitch(value.value)


def piece_text(piece: Piece, style: Style) -> str:
    """What a piece is, in a few words."""
    words: list[str] = []
    if piece.part == "cap":
        listed = {True: "listed", False: "not listed"}.get(piece.listed is True, "")
        return f"cap, {listed}" if isinstance(piece.listed, bool) else "cap, listing not known"
    if isinstance(piece.diameter, Measured):
        words.append(fraction(show(piece.diameter.value, Dimension.LENGTH, style)))
        if isinstance(piece.to_diameter, Measured):
            words.append("to " + fraction(show(piece.to_diameter.value, Dimension.LENGTH, style)))
    else:
        words.append("size ?")
    words.append(WALL_WORDS[wall_of(piece)])
    part = PART_WORDS[piece.part]
    if piece.part == "elbow":
        angle = f"{piece.angle.value:.0f}°" if isinstance(piece.angle, Measured) else "angle ?"
        part = f"elbow {angle}"
    return " ".join([*words, part])


def joint_text(joint: Joint | None, style: Style) -> str:
    """What is known of a joint, in a few words; empty where nothing is."""
    if joint is None:
        return ""
    words: list[str] = []
    if isinstance(joint.screws, Measured):
        count = round(joint.screws.value)
        words.append(f"{count} screw{'' if count == 1 else 's'}" if count else "no screws")
    elif joint.fastening in FASTENING_WORDS:
        words.append(FASTENING_WORDS[joint.fastening])
    if joint.male_end is not None:
        words.append(f"male end {joint.male_end}")
    if isinstance(joint.tape, str):
        words.append(f"{joint.tape} tape")
    if isinstance(joint.gap, Measured):
        words.append("gap " + fraction(show(joint.gap.value, Dimension.LENGTH, style)))
    return ", ".join(words)
