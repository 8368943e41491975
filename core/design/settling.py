"""What follows a change of its own accord: copies their pieces, and finishes a piece that has another name now."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec.structs import replace

from core.design.finishes import Finishing
from core.design.replay import Replay, replay
from core.pieces.names import RIGHT
from core.pieces.records import Garment, Piece, Side
from core.steps.catalogue import AnyStep
from core.steps.copy_pieces import CopyPieces, copied_again, works_on


def settled(done: Replay, before: Replay) -> Replay:
    """A replay with its copies made from the pieces as they are now, and its finishes on pieces that were renamed.

    `before` is the replay that was shown until now. Where the steps cannot be put so, they stay as they are, and the
    checks name the layers that lie off their pieces.
    """
    return _with_finishes(_with_copies(done), before.garment)


# --------------------------------------------------------------------------------------------------------------
# copies


def _with_copies(done: Replay) -> Replay:
    for step in [step for step in done.design.done_steps if isinstance(step, CopyPieces)]:
        if done.refused is None and _is_behind(done, step):
            tried = (replay(replace(done.design, steps=steps), done) for steps in _orders(done, step))
            done = next((one for one in tried if one.refused is None and not _is_behind(one, step)), done)
    return done


def _is_behind(done: Replay, step: CopyPieces) -> bool:
    """Whether a piece has been altered since it was copied; one that is there no more cannot be copied again."""
    then, now = done.before(step.id).pieces, done.garment.pieces
    return any(name in now and now[name] is not then[name] for name in step.pieces)


def _orders(done: Replay, step: CopyPieces) -> Iterator[tuple[AnyStep, ...]]:
    """The steps with what alters the pieces put before their copy, which keeps its number; or with the copy last."""
    steps = done.design.steps
    at = steps.index(step)
    altering = {
        stage.step.id
        for stage in done.stages
        if any(name in stage.effect.change.pieces for name in step.pieces) and not works_on(stage.step, step.names)
    }
    later = [one for one in steps[at + 1 :] if one.id in altering]
    whole = _of_both_halves(done, step)
    yield (*steps[:at], *later, whole, *(one for one in steps[at + 1 :] if one not in later))
    yield tuple(whole if one is step else one for one in copied_again(steps, step))


def _of_both_halves(done: Replay, step: CopyPieces) -> CopyPieces:
    """A copy with the right halves that its pieces were given since, else the left ones alone would be lined."""
    then, now = done.before(step.id).pieces, done.garment.pieces
    right = (f"{RIGHT} {name}" for name in step.pieces)
    return replace(step, pieces=(*step.pieces, *(name for name in right if name in now and name not in then)))


# --------------------------------------------------------------------------------------------------------------
# finishes


def _with_finishes(done: Replay, before: Garment) -> Replay:
    """Finishes of pieces that went by another name are put on the new piece that holds the edge they are about."""
    old, now = done.design.finishing, done.garment.pieces
    gone = {name: piece for name, piece in before.pieces.items() if name not in now}
    new = [piece for name, piece in now.items() if name not in before.pieces]
    if done.refused is not None or not gone or not new or old == Finishing():
        return done

    def holder(name: str, holds: Callable[[Piece], bool]) -> str:
        """The new piece that holds something of one that is gone: its like by number, or the only one."""
        found = [piece for piece in new if name in gone and holds(piece)]
        alike = [piece for piece in found if piece.number == gone[name].number] or found
        return alike[0].name if len(alike) == 1 else name

    def at_edge(name: str, origin: str, side: Side) -> str:
        return holder(name, lambda piece: any((e.origin.edge, e.origin.side) == (origin, side) for e in piece.edges))

    def at_dart(name: str, dart: str) -> str:
        return holder(name, lambda piece: any(one.name == dart for one in piece.darts))

    finishing = replace(
        old,
        edges=tuple(replace(one, piece=at_edge(one.piece, one.edge, one.side)) for one in old.edges),
        doubled=tuple(replace(one, piece=at_edge(one.piece, one.through, one.side)) for one in old.doubled),
        bones=tuple(replace(one, piece=at_edge(one.piece, one.edge, one.side)) for one in old.bones),
        darts=tuple(replace(one, piece=at_dart(one.piece, one.dart)) for one in old.darts),
    )
    return done if finishing == old else replace(done, design=replace(done.design, finishing=finishing))
