"""What lies under the pointer: pieces, edges, lines, darts, seams."""

from __future__ import annotations

import numpy as np

from app.canvas.hits import dart_at, edge_at, line_at, nearest_within, piece_at, seam_at
from app.canvas.label_place import label_place
from app.canvas.laid import Laid, laid
from core.geometry.placement import Placement
from core.geometry.planar import covers, distance_into, inside
from core.geometry.polyline import as_points
from core.pieces.records import Piece
from tests.paper_block import back, front, garment

SHIFT = Placement(0.0, 100.0, 20.0)


def table() -> list[Laid]:
    """The paper front shifted by (100, 20), the back by (-100, 0)."""
    return [laid(front(), SHIFT), laid(back(), Placement(0.0, -100.0, 0.0))]


def test_the_piece_under_a_place() -> None:
    """A place of the front lies where the front was shifted to; off all pieces there is none."""
    found = piece_at(table(), (150.0, 120.0))
    assert found is not None
    assert found.name == "front"
    assert piece_at(table(), (50.0, 120.0)) is None


def test_the_topmost_of_two_pieces() -> None:
    """Where pieces lie on one another, the one laid last is taken."""
    found = piece_at([laid(front(), SHIFT), laid(front(), SHIFT)], (150.0, 120.0))
    assert found is not None
    assert found.name == "front"


def test_an_edge_within_reach() -> None:
    """3 mm off the fold one is on it at the same height, not beyond reach, and never on a dart's base."""
    hit = edge_at(table(), (103.0, 150.0), 4.0)
    assert hit is not None
    assert (hit.edge.name, round(hit.gap, 6), hit.place) == ("centre_front", 3.0, (0.0, 130.0))
    assert edge_at(table(), (106.0, 150.0), 4.0) is None
    middle = front().edge("waist_dart").points.mean(axis=0)
    over = edge_at(table(), (middle[0] + 100.0, middle[1] + 20.0), 4.0)
    assert over is None or over.edge.kind != "dart base"


def test_level_lines_are_no_lines_to_take_hold_of() -> None:
    """The bust circle is a mark of the block."""
    piece = front()
    place = piece.lines[0].stretches[0][50]
    assert line_at(table(), (place[0] + 100.0, place[1] + 20.0), 4.0) is None


def test_a_dart_by_its_wedge_or_legs() -> None:
    """Inside the shoulder dart, and 2 mm outside a leg of it; beyond its mouth and at the other side, not."""
    hit = dart_at(table(), (100.0 + 118.0, 20.0 + 340.0), 3.0)
    assert hit is not None
    assert hit.dart.name == "front.shoulder_dart"
    assert dart_at(table(), (100.0 + 40.0, 20.0 + 250.0), 3.0) is None


def test_a_slit_that_is_only_thought_open_is_no_dart() -> None:
    """With both darts of the front folded, the slit that takes their angle cannot be picked."""
    item = laid(front(), Placement(), ("front.shoulder_dart", "front.waist_dart"))
    (slit,) = item.shown.darts
    place = ((slit.legs[0][0] + slit.legs[1][0]) / 2, (slit.legs[0][1] + slit.legs[1][1]) / 2)
    assert dart_at([item], place, 3.0) is None


def test_a_seam_by_its_edge() -> None:
    """The side edge belongs to the side seam; the neck to none."""
    hit = seam_at(garment(), table(), (100.0 + 225.0, 20.0 + 105.0), 4.0)
    assert hit is not None
    assert hit.seam.name == "side"
    assert seam_at(garment(), table(), (100.0 + 50.0, 20.0 + 350.0), 4.0) is None


def test_the_nearest_target_wins() -> None:
    """Of two handles within reach the nearer one is taken; of equally near ones the later, drawn on top."""
    assert nearest_within((0.0, 0.0), [(3.0, 0.0), (1.0, 1.0), (9.0, 0.0)], 5.0) == 1
    assert nearest_within((0.0, 0.0), [(2.0, 0.0), (-2.0, 0.0)], 5.0) == 1
    assert nearest_within((0.0, 0.0), [(6.0, 0.0)], 5.0) is None


def test_inside_agrees_with_shapely() -> None:
    """The even-odd rule and shapely say the same of places all over the front."""
    grid = as_points([(x, y) for x in np.arange(-13.37, 250.0, 17.0) for y in np.arange(-13.41, 430.0, 19.0)])
    assert inside(front().loop, grid).tolist() == [covers(front().loop, place) for place in grid]


def test_a_label_stands_on_cloth_clear_of_darts() -> None:
    """Well inside the outline and outside every wedge, on both blocks."""
    for piece in (front(), back()):
        place = label_place(piece)
        assert distance_into(piece.loop, place) > 15.0
        assert not any(_in_wedge(piece, index, place) for index in range(len(piece.darts)))


def _in_wedge(piece: Piece, index: int, place: tuple[float, float]) -> bool:
    dart = piece.darts[index]
    return distance_into(as_points([dart.pivot, *dart.legs]), place) > 0.0
