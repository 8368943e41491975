"""Replay, history and another body: pure, remembered, and exact on the way back."""

from __future__ import annotations

import msgspec
import pytest

from core.body.body import entered
from core.design.design import Design
from core.design.history import begun
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.pieces.records import Garment
from core.steps.cup import Cup
from core.steps.cut import Cut
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.trim import Trim
from core.units import said_in
from tests.core.laws.sample_steps import FIGURES, back_line, drafted, panels, sheer


def design(figure: str = "middling") -> Design:
    """A design of five steps on an invented figure."""
    start = drafted("middling")
    steps = (sheer(start), panels(start), back_line(start), Cup("cup-1", (21, 22)), Trim("trim-1", "side"))
    return Design("sample", entered(figure, "cm", FIGURES[figure]), steps=steps)


def moved(sample: Design, dy: float) -> Design:
    """The design with the sheer line's first point moved up."""
    line = sample.steps[0]
    assert isinstance(line, StyleLine)
    first = msgspec.structs.replace(line.points[0], y=line.points[0].y + dy)
    return sample.with_step(msgspec.structs.replace(line, points=(first, *line.points[1:])))


def bits(garment: Garment) -> dict[str, bytes]:
    """Every outline bit for bit."""
    return {name: piece.loop.tobytes() for name, piece in garment.pieces.items()}


def test_a_design_replays_whole() -> None:
    """Five steps, five stages, no refusal."""
    whole = replay(design())
    assert whole.refused is None
    assert [stage.step.id for stage in whole.stages] == ["sheer-1", "cut-1", "back-1", "cup-1", "trim-1"]
    assert whole.after("sheer-1") is whole.before("cut-1")
    with pytest.raises(Refusal, match="no finished step"):
        whole.after("hem-1")


def test_remembered_replay_equals_a_fresh_one() -> None:
    """After any edit the replay that takes work over and the one that does not agree bit for bit."""
    previous = replay(design())
    for dy in (1.0, -4.0, 9.0):
        edited = moved(design(), dy)
        previous = replay(edited, previous)
        assert bits(previous.garment) == bits(replay(edited).garment)


def test_a_drag_on_the_front_never_touches_the_back() -> None:
    """Pieces that the edit does not reach stay the same objects."""
    before = replay(design())
    after = replay(moved(design(), 3.0), before)
    assert after.garment.piece("back") is before.garment.piece("back")
    assert after.garment.piece("yoke") is not before.garment.piece("yoke")


def test_an_unchanged_design_costs_nothing() -> None:
    """Every stage is taken over as it is."""
    before = replay(design())
    assert all(a is b for a, b in zip(replay(design(), before).stages, before.stages, strict=True))


def test_a_refusing_step_leaves_the_garment_before_it_in_view() -> None:
    """The step and its sentence are recorded, and the pieces are those of the step before."""
    sample = design()
    cut = sample.steps[1]
    assert isinstance(cut, Cut)
    broken = replay(sample.with_step(msgspec.structs.replace(cut, lines=("front.nowhere",))))
    assert broken.refused is not None
    assert broken.refused.step_id == "cut-1"
    assert "draw it first" in broken.refused.sentence
    assert list(broken.garment.pieces) == ["front", "back"]


def test_undo_to_the_start_and_redo_to_the_end() -> None:
    """Both ends are the very designs that were there."""
    start = design()
    history = begun(start)
    for dy in (1.0, 2.0, 3.0):
        history = history.done(f"Move by {dy}", moved(start, dy))
    last = history.design
    assert history.undo_label == "Move by 3.0"
    for _ in range(5):
        history = history.undone()
    assert history.design is start
    assert history.undo_label == ""
    assert history.redo_label == "Move by 1.0"
    for _ in range(5):
        history = history.redone()
    assert history.design is last


def test_a_new_act_drops_what_was_undone() -> None:
    """After undo, doing something else makes redo impossible."""
    history = begun(design()).done("a", moved(design(), 1.0)).undone().done("b", moved(design(), 2.0))
    assert history.redo_label == ""
    assert history.undo_label == "b"


@pytest.mark.parametrize("figure", ["slight", "full"])
def test_another_body_and_back_is_exact(figure: str) -> None:
    """The style follows the other body's landmarks; A to B to A gives A's pieces bit for bit."""
    first = replay(design())
    other = msgspec.structs.replace(design(), body=entered(figure, "cm", FIGURES[figure]))
    there = replay(other, first)
    assert there.refused is None
    assert bits(there.garment) != bits(first.garment)
    assert bits(replay(design(), there).garment) == bits(first.garment)


def test_the_line_follows_the_bust_point_of_the_other_body() -> None:
    """A line through the bust point goes through the bust point of whoever wears it."""
    for figure in FIGURES:
        after: Replay = replay(msgspec.structs.replace(design(), body=entered(figure, "cm", FIGURES[figure])))
        piece = after.after("sheer-1").piece("front")
        x, y = piece.landmarks["bust_point"]
        path = piece.line("front.sheer_line").path
        assert ((path[:, 0] == x) & (path[:, 1] == y)).any()


def test_step_ids_are_fresh() -> None:
    """A new step never takes an id that another has."""
    sample = design()
    assert sample.fresh_id("cut") == "cut-2"
    assert sample.without_step("cut-1").fresh_id("cut") == "cut-1"
    assert sample.with_step(Trim("trim-2", "shoulder")).steps[-1].id == "trim-2"


def test_places_in_a_design_are_plain_records() -> None:
    """A point knows no garment: it is coordinates, a landmark's name or a place on an edge."""
    assert LinePoint(1.0, 2.0) == msgspec.json.decode(b'{"x":1.0,"y":2.0}', type=LinePoint)


def test_what_the_drafting_says_comes_before_what_the_steps_say() -> None:
    """A shoulder measured to the bone is noted by the drafting; the note reads like a step's, under "block"."""
    body = entered("long shoulder", "cm", FIGURES["middling"] | {"shoulder": 15.5})
    whole = replay(msgspec.structs.replace(design(), body=body))
    drafting = [said_in(sentence, whole.design.unit) for sentence in whole.draft.notes]
    assert [note.sentence for step, note in whole.notes if step == "block"] == drafting
    assert any("shoulder length" in note.sentence for step, note in whole.notes if step == "block")
    own = [(stage.step.id, note) for stage in whole.stages for note in whole.notes_of(stage)]
    assert list(whole.notes[len(whole.draft.notes) :]) == own


def test_notes_and_refusals_are_said_in_the_designs_unit() -> None:
    """What the core says in mm is said in inches in an inch design, and the work is not done anew for it."""
    body = entered("long shoulder", "cm", FIGURES["middling"] | {"shoulder": 15.5})
    first = replay(msgspec.structs.replace(design(), body=body, unit="mm"))
    inches = replay(msgspec.structs.replace(first.design, unit="in"), first)
    assert any(" mm" in note.sentence for _, note in first.notes)
    assert not any(" mm" in note.sentence for _, note in inches.notes)
    assert all(a.effect is b.effect for a, b in zip(first.stages, inches.stages, strict=True))


def test_a_number_taken_by_an_earlier_step_is_noticed() -> None:
    """A cup that was good is refused once a cut before it takes its number, and good again when it gives it back."""
    sample = design()
    cut = sample.steps[1]
    assert isinstance(cut, Cut)
    first = replay(sample)
    tags = (msgspec.structs.replace(cut.tags[0], number=21), *cut.tags[1:])
    clash = replay(sample.with_step(msgspec.structs.replace(cut, tags=tags)), first)
    assert clash.refused is not None
    assert "Number 21 is taken" in clash.refused.sentence
    assert replay(sample, clash).refused is None
