"""The cup's marks as notches of the opening."""

from __future__ import annotations

import numpy as np
import pytest

from core.design.replay import replay
from core.finishing.cup_marks import cup_notches
from core.geometry.placement import gap
from core.geometry.polyline import point_at
from core.pieces.cup_cover import marks_of
from core.pieces.seams import links
from core.steps.cup import Cup
from core.steps.unfold import Unfold
from tests.demo_designs import concert


def test_the_opening_has_the_cup_s_marks_on_both_sides() -> None:
    """Yoke and main cloth are notched where the match line begins, ends and passes the apex line."""
    done = replay(concert())
    found = cup_notches(done.design, done.garment)
    assert "front yoke" in found
    assert {piece for piece in found if piece != "front yoke"} <= {"centre front", "side front"}
    assert all(notch.edge.startswith("sheer_line") for notches in found.values() for notch in notches)


def test_each_notch_lies_as_far_from_the_bust_point_as_its_mark() -> None:
    """On the yoke, which never turned: within 0.05 mm of the mark's radius."""
    done = replay(concert())
    cup = next(step for step in done.design.steps if isinstance(step, Cup))
    plan = cup.plan(done.garment)
    assert plan.cover is not None
    marks = marks_of(plan.cover, plan.shape)
    yoke = done.garment.piece("front yoke")
    notches = cup_notches(done.design, done.garment)["front yoke"]
    lying = sorted(gap(point_at(yoke.edge(n.edge).points, n.at), plan.shape.cone.centre) for n in notches)
    radii = [mark.radius for mark in marks]
    assert len(lying) >= 2
    for radius in lying:
        assert min(abs(radius - known) for known in radii) == pytest.approx(0.0, abs=0.05)


def test_the_marks_are_called_as_the_trade_calls_them() -> None:
    """Apex line, centre front side, side, and the lowest point where that is none of them (trade.md E)."""
    done = replay(concert())
    cup = next(step for step in done.design.steps if isinstance(step, Cup))
    plan = cup.plan(done.garment)
    assert plan.cover is not None
    names = [mark.name for mark in marks_of(plan.cover, plan.shape)]
    assert names == ["centre front side", "apex line", "side"]


def test_mates_are_notched_opposite_each_other() -> None:
    """Counted from the seam's first end both sides' notches stand at the same distances."""
    done = replay(concert())
    seam = done.garment.seam("front.sheer_line")
    found = cup_notches(done.design, done.garment)
    rows = []
    for side in (links(done.garment, seam.a), links(done.garment, seam.b)):
        reached, row = 0.0, []
        for link in side:
            own = [notch.at for notch in found.get(link.piece.name, ()) if notch.edge == link.edge.name]
            row += [reached + (link.edge.length - at if link.reversed else at) for at in own]
            reached += link.edge.length
        rows.append(sorted(row))
    fewer, more = sorted(rows, key=len)
    assert fewer
    assert all(min(abs(a - b) for b in more) < 0.01 for a in fewer)


def test_the_right_half_has_them_too_once_it_is_drawn_out() -> None:
    """Unfolded, the yoke is notched on both sides of the centre front alike, and so are the right panels."""
    done = replay(concert().with_step(Unfold("unfold-1", "centre front")))
    found = cup_notches(done.design, done.garment)
    assert len(found["right side front"]) == len(found["side front"]) > 0
    yoke = done.garment.piece("front yoke")
    places = [point_at(yoke.edge(notch.edge).points, notch.at) for notch in found["front yoke"]]
    left, right = ([place for place in places if sign * place[0] > 0.0] for sign in (1.0, -1.0))
    assert len(left) == len(right) >= 2
    assert np.array(sorted(left)) == pytest.approx(np.array(sorted((-x, y) for x, y in right)), abs=0.05)


def test_without_a_cup_there_are_none() -> None:
    """The demo without its cup."""
    done = replay(concert().without_step("cup-1"))
    assert cup_notches(done.design, done.garment) == {}
