"""Connectors and the common vent that they join, as the whole way of one appliance's gas.

The survey describes a common vent once. What a code asks of an appliance's path is asked of the
whole way: its own connector and, from where it enters, the common vent.
"""

from __future__ import annotations

from dataclasses import replace

from fluewright.quantity import Dimension, Measured
from fluewright.survey import Common, Path, Piece, Survey

JUNCTIONS = ("tee", "wye")


def is_out(survey: Survey, path: Path) -> bool:
    """Whether the appliance of a path was taken out, so that no gas comes from it any more."""
    return survey.appliance_of(path).taken_out is True


def members(survey: Survey, name: str) -> tuple[Path, ...]:
    """The paths of the appliances that burn into a common vent today, in the survey's order."""
    return tuple(p for p in survey.paths if p.joins == name and not is_out(survey, p))


def former_members(survey: Survey, name: str) -> tuple[Path, ...]:
    """The paths of the appliances that once joined it and were taken out."""
    return tuple(p for p in survey.paths if p.joins == name and is_out(survey, p))


def entry_index(path: Path, common: Common) -> int:
    """Place in the common vent of the piece that a connector enters; 0 where it is not said."""
    at = path.enters.at if path.enters else None
    return next((i for i, piece in enumerate(common.pieces) if piece.id == at), 0)


def whole(survey: Survey, path: Path) -> Path:
    """The whole way of an appliance's gas: its own pieces, then the common vent it joins.

    Args:
        survey: the survey that holds the path.
        path: one of its paths.
    Returns:
        The path itself where it joins nothing.
    """
    common = survey.common.get(path.joins) if path.joins else None
    if common is None:
        return path
    shared = list(common.pieces[entry_index(path, common) :])
    if shared and _from_the_side(path, shared[0]):
        shared[0] = _from_center(shared[0])
    return replace(
        path,
        pieces=(*path.pieces, *shared),
        vent=common.vent,
        chimney=common.chimney,
        roof=common.roof,
    )


def concerned(survey: Survey, subject: str) -> tuple[str, ...]:
    """The appliances that a finding on some thing bears on: all of them where it says no more.

    Args:
        survey: what was seen.
        subject: of a finding: an appliance, a piece, a common vent, a space, or another word.
    """
    live = tuple(n for n, owner in survey.appliances.items() if owner.taken_out is not True)
    piece = subject.removesuffix(" joint")
    if subject in survey.appliances:
        return (subject,)
    for path in survey.paths:
        if any(p.id == piece for p in path.pieces):
            return (path.from_,)
    for name, common in survey.common.items():
        if subject.endswith(name) or any(p.id == piece for p in common.pieces):
            return tuple(path.from_ for path in members(survey, name)) or live
    if subject in survey.spaces:
        return tuple(n for n in live if survey.appliances[n].space == subject) or live
    return live


def trunk(name: str, common: Common) -> Path:
    """A common vent by itself, as a path from its first junction to the open air."""
    return Path(
        from_=name,
        pieces=common.pieces,
        vent=common.vent,
        chimney=common.chimney,
        roof=common.roof,
    )


def _from_the_side(path: Path, piece: Piece) -> bool:
    """Whether the gas comes in by the branch; into a tee or wye it may where nobody says."""
    way = path.enters.way if path.enters else None
    return way != "through" and piece.part in JUNCTIONS


def _from_center(piece: Piece) -> Piece:
    """What a tee adds for gas from its branch: from the branch's center line to its far end.

    Where that was not measured (``leg``) it is anything up to the whole length of the tee.
    """
    if isinstance(piece.leg, Measured):
        return replace(piece, length=piece.leg)
    if not isinstance(piece.length, Measured):
        return piece
    part = Measured.between(
        0.0, piece.length.high, Dimension.LENGTH, piece.length.tool, piece.length.evidence
    )
    return replace(piece, length=part)
