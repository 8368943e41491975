"""The tool by which a step that is there already is altered: the one that makes such a step, taken up as it left it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from app.canvas.table import CuttingTable
from app.tools.catalogue import tool_named
from app.tools.choose import tool_for
from app.tools.step_tool import StepTool
from core.steps.catalogue import AnyStep
from core.steps.cut import Cut
from core.steps.flatten import Flatten
from core.steps.grain import TurnGrain
from core.steps.join import Join
from core.steps.move_edge import MoveEdge
from core.steps.pivot import Pivot
from core.steps.set_back import SetBack
from core.steps.slash import SlashAndSpread
from core.steps.step import Step
from core.steps.take_in import TakeIn
from core.steps.trim import Trim
from core.steps.true import Truing

EDITED_BY: Final[Mapping[type[Step], str]] = {
    Pivot: "pivot",
    Cut: "cut",
    Flatten: "flatten",
    TakeIn: "take-in",
    SlashAndSpread: "slash",
    SetBack: "set-back",
    Truing: "true",
    Trim: "trim",
    Join: "join",
    MoveEdge: "move-edge",
    TurnGrain: "grain",
}
"""Tools of the catalogue by the steps that they alter; lines, necklines and cups are altered by their own points."""


def take_up(table: CuttingTable, step: AnyStep) -> bool:
    """Take up the tool that alters a step, filled with what the step holds; False where no tool does.

    Refusal, the tool in hand all the same, where what the step is about is there no more.
    """
    id_ = EDITED_BY.get(type(step))
    tool = tool_for(table, step) if id_ is None else tool_named(id_).make(table)
    if tool is None:
        return False
    name = tool.called if id_ is None else tool_named(id_).name
    number = [other.id for other in table.session.design.steps].index(step.id) + 1
    tool.called = f"{name}: step {number}"
    table.set_tool(tool)
    if id_ is not None and isinstance(tool, StepTool):
        tool.take_up(step)
    if table.focused_handle is None:
        table.setFocus()
    return True
