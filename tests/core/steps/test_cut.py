"""Cut: panels along drawn lines, with crossed darts shortened, closed, or taken into the seam."""

from __future__ import annotations

from math import degrees

import msgspec
import numpy as np
import pytest
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import as_points, signed_area
from core.pieces.outline import cloth_area
from core.pieces.records import Garment, Line
from core.pieces.seams import match
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.paper_block import BUST_POINT, front, garment

MARKS = landmarks_of(front())
YOKE, CENTRE, SIDE = Tag(40, 300, "yoke", 1, "sheer"), Tag(30, 100, "centre", 2), Tag(180, 100, "side", 3)
THROUGH = StyleLine(
    "line",
    "front",
    "front.sheer",
    (LinePoint(0, 230), LinePoint(90, 180, landmark="bust_point"), LinePoint(190, 250)),
    MARKS,
)
ABOVE = StyleLine(
    "line",
    "front",
    "front.sheer",
    (LinePoint(0, 260), LinePoint(70, 250), LinePoint(150.5, 311)),
    MARKS,
    folded=("front.shoulder_dart",),
)
PANELS = Cut("cut", "front", ("front.sheer",), (YOKE, CENTRE, SIDE), MARKS, darts=("front.waist_dart",))


def cut_through() -> Garment:
    """Cut through the bust point, the waist dart taken into the princess seam."""
    return PANELS.apply(THROUGH.apply(garment()).garment).garment


def test_a_line_through_the_bust_point_divides_both_darts_cleanly() -> None:
    """The shoulder dart closes in the yoke, the waist dart becomes a seam: no panel keeps a dart (cutting.md 2)."""
    panels = cut_through()
    assert {panels.piece(name).number for name in ("yoke", "centre", "side")} == {1, 2, 3}
    assert not any(panels.piece(name).darts for name in ("yoke", "centre", "side"))


def test_cloth_areas_add_up() -> None:
    """The panels hold as much cloth as the piece they were cut from."""
    panels = cut_through()
    total = sum(cloth_area(panels.piece(name)) for name in ("yoke", "centre", "side"))
    assert total == pytest.approx(cloth_area(front()), abs=1e-6)


def test_both_sides_of_every_cut_are_equal() -> None:
    """Along the drawn line and along the dart's legs the two sides measure the same."""
    panels = cut_through()
    for name in ("front.sheer", "front.waist_dart"):
        found = match(panels, panels.seam(name))
        assert found.length_a > 100.0
        assert found.difference == pytest.approx(0.0, abs=1e-9)


def test_panels_are_simple_closed_and_counter_clockwise() -> None:
    """Each panel's edges close bit for bit into a simple loop."""
    for piece in cut_through().pieces.values():
        assert is_simple_loop(piece.loop)
        assert signed_area(piece.loop) > 0.0
        for index, edge in enumerate(piece.edges):
            assert (piece.edges[index - 1].points[-1] == edge.points[0]).all()


def test_a_folded_line_above_the_bust_point_shortens_the_dart() -> None:
    """The main panel keeps the dart's 15 degrees on shorter legs; the yoke, without its pivot, is closed."""
    panels = Cut("cut", "front", ("front.sheer",), (YOKE, CENTRE), MARKS).apply(ABOVE.apply(garment()).garment).garment
    dart = panels.piece("centre").dart("front.shoulder_dart")
    assert degrees(dart.angle) == pytest.approx(15.0, abs=1e-9)
    assert dart.leg_length < front().dart("front.shoulder_dart").leg_length
    assert not panels.piece("yoke").darts
    assert match(panels, panels.seam("front.sheer")).difference == pytest.approx(0.0, abs=1e-9)


def test_the_closed_yoke_has_no_step_where_the_dart_was() -> None:
    """Its sheer edge runs on over the closed dart: the two stretches meet and go the same way (cutting.md 1)."""
    drawn = ABOVE.apply(garment()).garment
    yoke = Cut("cut", "front", ("front.sheer",), (YOKE, CENTRE), MARKS).apply(drawn).garment.piece("yoke")
    cuts = [edge for edge in yoke.edges if edge.origin.edge == "front.sheer"]
    rows = np.vstack([edge.points for edge in sorted(cuts, key=lambda edge: edge.origin.start)])
    turns = np.abs(
        np.diff(
            np.unwrap(
                np.arctan2(*np.diff(rows[np.r_[True, np.hypot(*np.diff(rows, axis=0).T) > 1e-9]], axis=0).T[::-1])
            )
        )
    )
    assert turns.max() < np.radians(3.0)


def test_a_princess_line_to_the_pivot_takes_the_legs_into_the_seam() -> None:
    """A line from the armhole to the bust point goes on along the waist dart's legs: two panels, one seam."""
    line = StyleLine(
        "l",
        "front",
        "front.princess",
        (LinePoint(181, 270), LinePoint(140, 215), LinePoint(*BUST_POINT, landmark="bust_point")),
        MARKS,
        "panel",
    )
    cut = Cut("c", "front", ("front.princess",), (Tag(30, 100, "centre", 2), SIDE), MARKS, darts=("front.waist_dart",))
    panels = cut.apply(line.apply(garment()).garment).garment
    seam = match(panels, panels.seam("front.princess"))
    assert [link.edge.origin.edge for link in seam.a] == ["front.princess", "front.waist_dart"]
    assert seam.difference == pytest.approx(0.0, abs=1e-9)
    assert not panels.piece("centre").darts, "the other dart is pivoted into the line (cutting.md 6)"


def test_a_dart_at_the_seam_stays_open_on_request() -> None:
    """A dart that would be closed because its pivot lies on the cut is kept when its name is given."""
    kept = msgspec.structs.replace(PANELS, darts=(), tags=(YOKE, CENTRE), keep_open=("front.waist_dart",))
    panels = kept.apply(THROUGH.apply(garment()).garment).garment
    assert [dart.name for dart in panels.piece("centre").darts] == ["front.waist_dart"]


def test_two_open_darts_at_the_end_want_a_name() -> None:
    """Both darts end at the bust point: which one goes into the seam has to be said (cutting.md 6)."""
    line = StyleLine(
        "l", "front", "front.p", (LinePoint(181, 270), LinePoint(90, 180, landmark="bust_point")), MARKS, "panel"
    )
    drawn = line.apply(garment()).garment
    with pytest.raises(Refusal, match="name the one"):
        Cut("c", "front", ("front.p",), (CENTRE, SIDE), MARKS).apply(drawn)


def test_panels_keep_name_and_number_when_the_line_moves() -> None:
    """A panel's identity is the tag hung in it, not the order in which faces are found."""
    moved = StyleLine(
        "line",
        "front",
        "front.sheer",
        (LinePoint(0, 215), LinePoint(90, 180, landmark="bust_point"), LinePoint(186, 255)),
        MARKS,
    )
    panels = PANELS.apply(moved.apply(garment()).garment).garment
    assert [panels.piece(name).number for name in ("yoke", "centre", "side")] == [1, 2, 3]


@pytest.mark.parametrize(
    ("cut", "words"),
    [
        (Cut("c", "front", ("front.nowhere",), (YOKE,), MARKS), "draw it first"),
        (Cut("c", "front", (), (YOKE,), MARKS), "Choose a line"),
        (Cut("c", "front", ("front.sheer",), (YOKE, Tag(41, 301, "twin", 7)), MARKS), "hang in one panel"),
        (Cut("c", "front", ("front.sheer",), (YOKE, Tag(30, 100, "back", 7)), MARKS), "already"),
        (Cut("c", "front", ("front.sheer",), (YOKE, Tag(30, 100, "low", 1)), MARKS), "taken"),
        (Cut("c", "front", ("front.sheer",), (Tag(500, 500, "far", 1),), MARKS), "outside"),
    ],
)
def test_what_cannot_be_cut_is_refused_in_a_sentence(cut: Cut, words: str) -> None:
    """Each refusal names piece or tag and the way out."""
    with pytest.raises(Refusal, match=words):
        cut.apply(THROUGH.apply(garment()).garment)


def test_a_loose_panels_grain_is_square_to_its_bust_line() -> None:
    """The side panel that turned 15 degrees with the dart has its grain turned with it (trade.md D6)."""
    block = garment()
    level = Line("front.bust_line", "level", (as_points([(0.0, 180.0), (224.0, 180.0)]),))
    piece = replace(block.piece("front"), lines=(level,))
    start = replace(block, pieces={**block.pieces, "front": piece})
    turned = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(start).garment
    line = StyleLine(
        "l", "front", "front.princess", (LinePoint(65, 410), LinePoint(90, 180, landmark="bust_point")), MARKS, "panel"
    )
    drawn = msgspec.structs.replace(line, points=(LinePoint(40.0, 344.0), line.points[1])).apply(turned).garment
    cut = Cut("c", "front", ("front.princess",), (Tag(20, 100, "centre", 2),), {}, darts=("front.waist_dart",))
    after = cut.apply(drawn).garment
    side = next(p for p in after.pieces.values() if p.block == "front" and p.name != "centre")
    assert degrees(side.grain) == pytest.approx(90.0 + 15.0, abs=1e-6)
    assert degrees(after.piece("centre").grain) == pytest.approx(90.0)


@pytest.mark.parametrize(("leg", "is_sliver"), [(4.0, True), (9.0, False)])
def test_a_sliver_is_not_cut_off(leg: float, is_sliver: bool) -> None:
    """Legs of 4 mm at the square corner of centre front and waist leave 8 mm2, legs of 9 mm 40: 25 are the least."""
    line = StyleLine("line", "front", "front.corner", (LinePoint(0, leg), LinePoint(leg, 0)), MARKS, purpose="panel")
    cut = Cut("cut", "front", ("front.corner",), (), MARKS)
    drawn = line.apply(garment()).garment
    if is_sliver:
        with pytest.raises(Refusal, match="cut a sliver off piece front"):
            cut.apply(drawn)
    else:
        assert len(cut.apply(drawn).garment.pieces) == len(garment().pieces) + 1
