"""What a hand does to a lay: move a piece, turn it, flip it, lock it, and have the rest filled in.

Each act gives a new lay that has been proved, or refuses in a sentence; the lay before it is never altered.
"""

from __future__ import annotations

from math import hypot, remainder
from typing import Final

from msgspec.structs import replace

from core.errors import Refusal
from core.outputs.lay_plan import Laid, Lay, parts_of
from core.outputs.lay_proof import faults_of
from core.outputs.lay_search import Told, search
from core.units import Unit

STEPS: Final = 60
"""A piece that is in the way is come up to in this many steps of the way to the place that was meant."""


def moved(lay: Lay, index: int, shift: tuple[float, float], *, unit: Unit = "mm") -> Lay:
    """A piece moved as far as nothing is in its way; it slides along the selvedges, and a piece on the fold along it.

    Refusal where it cannot move at all, or is locked.
    """
    piece = _free(lay, index)
    target = reaching(lay, index, shift)
    dx, dy = target.x - piece.x, target.y - piece.y
    for step in range(STEPS, 0, -1):
        share = step / STEPS
        tried = _with(lay, index, piece.moved(share * dx, share * dy))
        if not faults_of(index, tried, unit=unit):
            return tried.settled()
    why = next(
        iter(faults_of(index, _with(lay, index, target), unit=unit)), f"Piece {piece.part.said} lies there already."
    )
    raise Refusal(f"{why} Move it elsewhere, or move what is in the way.", piece=piece.part.name)


def reaching(lay: Lay, index: int, shift: tuple[float, float]) -> Laid:
    """The piece where a shift would take it, kept between the selvedges, or on the fold."""
    piece = lay.laid[index]
    if piece.part.on_fold:
        return piece.moved(shift[0], 0.0)
    up = min(max(shift[1], -piece.box[1]), lay.strip - piece.box[3])
    return piece.moved(shift[0], up)


def turned(lay: Lay, index: int, *, unit: Unit = "mm") -> Lay:
    """A piece turned end for end about its middle. Refusal where grain, lock or what lies beside it forbids that."""
    piece = _free(lay, index)
    if lay.choices.grain == "one way":
        raise Refusal(
            f"All pieces of {lay.fabric.words} lie one way, for its nap: choose “either way” for the grain first.",
            piece=piece.part.name,
        )
    if piece.part.on_fold:
        return _proved(lay, index, _other_hand(piece), unit)
    return _proved(lay, index, _about_middle(piece, replace(piece, turn=remainder(piece.turn + 180.0, 360.0))), unit)


def flipped(lay: Lay, index: int, *, unit: Unit = "mm") -> Lay:
    """A piece turned over. One of a pair is exchanged for its like: the nearest other hand is turned over with it.

    Refusal where the piece is cut once, face up, or its lock or what lies beside it forbids that.
    """
    piece = _free(lay, index)
    if piece.part.on_fold and lay.choices.grain == "one way":
        raise Refusal(f"Piece {piece.part.said} would lie against the nap: it stays as it is.", piece=piece.part.name)
    if piece.part.either:
        return _proved(lay, index, _other_hand(piece), unit)
    others = [
        other
        for other, laid in enumerate(lay.laid)
        if laid.part is piece.part and laid.mirrored != piece.mirrored and not laid.locked
    ]
    if not others:
        raise Refusal(
            f"Piece {piece.part.said} is cut once, right side up: turned over it would be for the other side.",
            piece=piece.part.name,
        )
    partner = min(others, key=lambda other: hypot(lay.laid[other].x - piece.x, lay.laid[other].y - piece.y))
    exchanged = _with(lay, partner, _other_hand(lay.laid[partner]))
    why = faults_of(partner, exchanged, unit=unit)
    if why:
        raise Refusal(f"{why[0]} Make room for the other one of the pair first.", piece=piece.part.name)
    return _proved(exchanged, index, _other_hand(piece), unit)


def locked(lay: Lay, index: int, *, is_locked: bool) -> Lay:
    """A piece that stays where it is when the rest is filled in, or is let go again."""
    return _with(lay, index, replace(lay.laid[index], locked=is_locked))


def filled(lay: Lay, *, seconds: float, told: Told, workers: int | None = None) -> Lay:
    """The lay with all that is not locked laid anew round what is. Refusal where nothing, or everything, is locked."""
    held = tuple(piece for piece in lay.laid if piece.locked)
    if not held or len(held) == len(lay.laid):
        what = "every piece is" if held else "no piece is"
        raise Refusal(f"There is nothing to fill in, for {what} locked: lock those that are to stay, and only those.")
    return search(replace(lay, laid=held), parts_of(lay.laid), seconds=seconds, told=told, workers=workers)


def _free(lay: Lay, index: int) -> Laid:
    piece = lay.laid[index]
    if piece.locked:
        raise Refusal(f"Piece {piece.part.said} is locked in its place: unlock it first.", piece=piece.part.name)
    return piece


def _with(lay: Lay, index: int, piece: Laid) -> Lay:
    return replace(lay, laid=(*lay.laid[:index], piece, *lay.laid[index + 1 :]))


def _proved(lay: Lay, index: int, piece: Laid, unit: Unit) -> Lay:
    tried = _with(lay, index, piece)
    why = faults_of(index, tried, unit=unit)
    if why:
        raise Refusal(f"{why[0]} Move it clear first, or move what is beside it.", piece=piece.part.name)
    return tried.settled()


def _other_hand(piece: Laid) -> Laid:
    """The piece turned over in its place, its grain as it was; on the fold it comes to lie the other way along."""
    hand, part = not piece.mirrored, piece.part
    if part.on_fold:
        allowed = part.allowed(is_mirrored=hand)
        if not allowed:
            raise Refusal(f"Piece {part.said} lies on the fold in one way only.", piece=part.name)
        over = replace(piece, mirrored=hand, turn=allowed[0])
    else:
        off = piece.turn - part.turn_on_grain(is_mirrored=piece.mirrored)
        over = replace(piece, mirrored=hand, turn=part.turn_on_grain(is_mirrored=hand) + off)
    return _about_middle(piece, over)


def _about_middle(before: Laid, after: Laid) -> Laid:
    """The piece shifted so that the middle of its box stays where it was."""
    shift = [(before.box[i] + before.box[i + 2] - after.box[i] - after.box[i + 2]) / 2.0 for i in (0, 1)]
    return after.moved(shift[0], shift[1])
