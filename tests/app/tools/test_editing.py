"""A step that is there already, altered by the tool that makes such a step: taken up as it was, kept in its place."""

from __future__ import annotations

from math import cos, radians, sin
from typing import TypeVar

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.tools.editing import EDITED_BY, take_up
from app.tools.pivot import PivotTool
from app.tools.step_tool import StepTool
from core.body.body import entered
from core.design.design import Design
from core.geometry.polyline import point_at
from core.pieces.places import resolved_point
from core.steps.catalogue import AnyStep
from core.steps.cut import Cut
from core.steps.join import Join
from core.steps.pivot import Pivot
from core.steps.style_line import StyleLine
from core.steps.take_in import TakeIn
from core.steps.trim import Trim
from tests.app.at_table import AtTable, first_steps
from tests.core.laws.sample_steps import FIGURES, drafted, panels, roads, sheer
from tests.demo_designs import concert, ice, stage

S = TypeVar("S", bound=AnyStep)

SHIFT = Qt.KeyboardModifier.ShiftModifier


def of(kind: type[S], design: Design) -> S:
    """The first step of a kind."""
    return next(step for step in design.steps if isinstance(step, kind))


def taken_up(design: Design, step: AnyStep) -> AtTable:
    """The table with the tool in hand that alters a step."""
    at = AtTable(design)
    assert take_up(at.table, step)
    at.settle()
    return at


def trial(at: AtTable) -> AnyStep | None:
    """The step as the tool is set."""
    tool = at.table.tool
    assert isinstance(tool, StepTool)
    return tool.as_set()


def samples() -> list[tuple[AnyStep, ...]]:
    """The roads of the laws that end with a step which a tool alters, and a joint at the side: every such kind."""
    garment = drafted("middling")
    found = [road for road in roads(garment) if type(road[-1]) in EDITED_BY]
    found += [(sheer(garment), panels(garment), Join("join-1", "side", "armhole", "whole side", trued=True))]
    assert {type(road[-1]) for road in found} == set(EDITED_BY)
    return found


@pytest.mark.parametrize("road", samples(), ids=lambda road: road[-1].id)
def test_a_step_is_taken_up_as_it_is_and_kept_as_no_act(road: tuple[AnyStep, ...]) -> None:
    """The tool is set as the step is, the garment shown as before it or just after; kept like that, nothing is done."""
    design = Design("Sample", entered("Sample", "cm", FIGURES["middling"]), unit="cm", steps=road)
    at = taken_up(design, road[-1])
    assert at.table.tool.called.endswith(f": step {len(road)}")
    assert len(at.session.shown.stages) in (len(road) - 1, len(road))
    as_set = trial(at)
    assert as_set is not None
    assert replace(as_set, id=road[-1].id) == road[-1]
    at.push("Keep")
    assert at.session.design is design
    assert at.session.shown is at.session.replay
    assert (at.acts(), at.finished) == (0, 1)


def test_a_place_is_counted_on_the_edge_as_it_was_before_the_step() -> None:
    """The neck is cut deeper by a later step, and longer: the pointer means the neck of the block, where it lies."""
    design = first_steps(2)
    at = taken_up(design, of(Pivot, design))
    before = at.session.replay.block
    front = before.piece("front")
    neck = front.edge("neck")
    assert at.piece("front").edge("neck").length > neck.length + 20.0
    wanted = point_at(neck.points, 0.7 * neck.length)
    at.hover(at.table.scene.former(front).to_table(wanted))
    tool = at.table.tool
    assert isinstance(tool, PivotTool)
    goal = tool._under
    assert goal is not None
    assert goal.place is not None
    assert resolved_point(before, front, goal.place) == pytest.approx(wanted, abs=2.0)


@pytest.mark.parametrize(("kind", "design"), [(Pivot, concert()), (Cut, concert()), (TakeIn, stage()), (Trim, ice())])
def test_one_esc_leaves_a_step_as_it_was(kind: type[AnyStep], design: Design) -> None:
    """The tool is laid down, nothing is altered, and all of the garment is there again."""
    at = taken_up(design, of(kind, design))
    at.press_key(Qt.Key.Key_Escape)
    assert (at.acts(), at.finished) == (0, 1)
    assert at.session.shown is at.session.replay


def test_a_pivot_is_altered_by_keys_alone() -> None:
    """The share has the keyboard: an arrow turns less, Enter keeps it in the step's place, one undo brings it back."""
    design = first_steps(2)
    at = taken_up(design, of(Pivot, design))
    at.press_key(Qt.Key.Key_Left, SHIFT)
    at.press_key(Qt.Key.Key_Return)
    altered, neckline = at.session.design.steps
    assert isinstance(altered, Pivot)
    assert altered.id == "pivot-1"
    assert altered.share == pytest.approx(0.5)
    assert neckline is design.steps[1]
    assert at.session.history.undo_label == "Edit step 1"
    at.session.undo()
    assert at.session.design is design


def test_a_pivot_is_sent_elsewhere_by_a_click() -> None:
    """Another place is clicked, the tool still in hand: the share stays what it was, and Keep takes the step over."""
    design = first_steps(1)
    at = taken_up(design, of(Pivot, design))
    at.click(at.handle("To the mid armhole").at)
    moved = trial(at)
    assert isinstance(moved, Pivot)
    assert moved.place is not None
    assert moved.place.edge == "front.armhole"
    assert moved.share == pytest.approx(1.0)
    at.push("Keep")
    assert at.session.design.steps == (moved,)


def test_esc_in_a_drag_of_an_altered_pivot_puts_only_the_drag_back() -> None:
    """The pin goes back to where it was when the button went down; the tool stays in hand."""
    design = first_steps(1)
    at = taken_up(design, of(Pivot, design))
    before = trial(at)
    pin = at.handle("Pivot of the shoulder dart").at
    at.press(pin)
    for far in (6.0, 14.0):
        QTest.mouseMove(at.table, at.pixel((pin[0], pin[1] + far)))
        at.settle()
    assert trial(at) != before
    at.press_key(Qt.Key.Key_Escape)
    assert trial(at) == before
    assert at.finished == 0
    at.release(pin)


def typed(at: AtTable, name: str, text: str) -> QLineEdit:
    """Type into a field of the slip, and Enter."""
    field = next(f for f in at.table.findChildren(QLineEdit) if f.accessibleName() == name and f.isVisible())
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)
    at.settle()
    return field


def test_how_much_is_turned_is_typed() -> None:
    """As a share, as an angle, or as how wide it opens: 2 r sin(angle / 2) at the leg's length (design.md 1)."""
    design = first_steps(1)
    at = taken_up(design, of(Pivot, design))
    whole = AtTable(first_steps(0)).piece("front").dart("front.shoulder_dart").angle
    dart = AtTable(first_steps(0)).piece("front").dart("front.waist_dart")

    def share() -> float:
        step = trial(at)
        assert isinstance(step, Pivot)
        return step.share

    typed(at, "Turned", "25 %")
    assert share() == pytest.approx(0.25)
    typed(at, "Turned", "5 degrees")
    assert share() * whole == pytest.approx(radians(5.0))
    typed(at, "Turned", "1/2 in")
    mouth = dart.leg_length * cos(dart.angle / 2)
    assert 2.0 * mouth * sin(share() * whole / 2) == pytest.approx(12.7)
    before = share()
    for nonsense in ("much", "120 %", "-10 %"):
        typed(at, "Turned", nonsense)
        assert share() == before
    assert "is left" in at.said[-1]


def test_a_cut_keeps_the_names_and_numbers_of_the_panels_that_stay() -> None:
    """Without the princess line the yoke is still 1, and what is below it is one panel with the first tag in it."""
    design = replace(concert(), steps=concert().steps[:5])
    at = taken_up(design, of(Cut, design))
    at.click(at.handle("Princess of front, chosen").at)
    at.push("Keep")
    cut, before = of(Cut, at.session.design), of(Cut, design)
    assert cut.lines == before.lines[:1]
    assert cut.tags[0] == before.tags[0]
    assert [tag.number for tag in cut.tags] == [1, before.tags[1].number]
    assert at.acts() == 1


def test_a_later_step_that_could_not_be_done_is_named_and_nothing_kept() -> None:
    """With half of the shoulder dart left open the sheer line crosses it: its step is named by number."""
    design = concert()
    at = taken_up(design, of(Pivot, design))
    at.press_key(Qt.Key.Key_Left, SHIFT)
    number = next(i for i, step in enumerate(design.steps, 1) if isinstance(step, StyleLine))
    assert f"Step {number} could not be done then" in at.said[-1]
    at.press_key(Qt.Key.Key_Return)
    assert at.session.design is design


def test_a_taking_in_is_altered_at_its_level_by_typing() -> None:
    """1 cm in all at the sheer line instead of 0.4: the other levels and what becomes of the seam across stay."""
    design = stage()
    step = of(TakeIn, design)
    at = taken_up(design, step)
    typed(at, "In all at the sheer line", "6 mm")
    at.press_key(Qt.Key.Key_Return)
    altered = of(TakeIn, at.session.design)
    assert altered.levels[0].a == pytest.approx(3.0)
    assert altered.levels[0].b == pytest.approx(3.0)
    assert altered.levels[1:] == step.levels[1:]
    assert (altered.across, altered.taper, altered.fitting) == (step.across, step.taper, step.fitting)
    assert at.session.replay.refused is None


def test_a_trim_is_altered_to_the_other_side_by_a_key() -> None:
    """S shares it between both sides, seen at once; Enter keeps it."""
    design = stage()
    at = taken_up(design, of(Trim, design))
    at.press_key(Qt.Key.Key_S)
    shown = trial(at)
    assert isinstance(shown, Trim)
    assert shown.side == "shared"
    at.push("Keep")
    assert of(Trim, at.session.design).side == "shared"
    assert at.session.history.undo_label == f"Edit step {design.steps.index(of(Trim, design)) + 1}"
