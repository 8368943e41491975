"""The table of tools."""

from __future__ import annotations

from app.canvas.tool import Tool
from app.theme import LIGHT
from app.tools.catalogue import TOOLS, tool_named
from tests.app.at_table import AtTable
from tests.demo_designs import concert


def test_every_tool_can_be_taken_up_and_laid_down_without_a_trace() -> None:
    """Taking each one up on a finished commission, hovering and leaving it, changes nothing."""
    at = AtTable(concert())
    before = at.session.design
    for info in TOOLS:
        at.take(info.id)
        assert isinstance(at.table.tool, Tool)
        at.hover(at.label_of("side front"))
        at.table.grab()
        assert not info.icon(LIGHT).isNull()
    at.take("choose")
    assert at.session.design is before
    assert at.session.shown is at.session.replay
    assert at.acts() == 0


def test_ids_names_and_keys_are_told_apart() -> None:
    """No two tools share one."""
    for field in ("id", "name", "shortcut"):
        values = [getattr(info, field) for info in TOOLS]
        assert len(set(values)) == len(values)
    assert tool_named("cut").name == "Cut into panels"
