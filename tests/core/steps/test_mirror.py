"""Mirror: what was left is right; mirrored twice it is as it was."""

from __future__ import annotations

import numpy as np
import pytest

from core.errors import Refusal
from core.geometry.polyline import signed_area
from core.pieces.places import Place, resolved_point
from core.pieces.records import Garment, Piece
from core.pieces.seams import chain_points, match
from core.steps.mirror import Mirror
from core.steps.pivot import Pivot
from core.steps.unfold import Unfold
from tests.core.laws.sample_steps import done, drafted, garments, panels, sheer
from tests.paper_block import garment

BOTH = Mirror("m", ("front", "back"))


def numbers(piece: Piece) -> tuple[object, ...]:
    """Every number of a piece, for saying that two are equal; 0 and -0 are."""
    edges = [(e.name, e.points.tolist(), e.origin.edge, e.origin.start, e.origin.stop) for e in piece.edges]
    darts = [(d.name, d.pivot, d.legs, d.base, d.point) for d in piece.darts]
    lines = [(line.name, line.starts, line.path.tolist()) for line in piece.lines]
    return edges, darts, lines, dict(piece.landmarks), piece.grain


@pytest.mark.parametrize("name", garments())
def test_mirrored_twice_is_the_same(name: str) -> None:
    """Exactly, whatever lies on the pieces (design law)."""
    start = garments()[name]
    twice = done(start, (BOTH, BOTH))
    for piece in start.pieces.values():
        assert numbers(twice.piece(piece.name)) == numbers(piece)


def test_panels_mirrored_twice_are_the_same() -> None:
    """Panels without a centre edge too; their grain within rounding."""
    start = drafted("middling")
    cut = done(start, (sheer(start), panels(start)))
    twice = done(cut, (Mirror("m", tuple(cut.pieces)), Mirror("n", tuple(cut.pieces))))
    for piece in cut.pieces.values():
        now = twice.piece(piece.name)
        assert [edge.points.tolist() for edge in now.edges] == [edge.points.tolist() for edge in piece.edges]
        assert now.grain == pytest.approx(piece.grain, abs=1e-12)


def test_the_image_runs_counter_clockwise_at_the_other_side() -> None:
    """x changes its sign, area and direction of travel do not."""
    before, after = garment().piece("front"), BOTH.apply(garment()).garment.piece("front")
    assert signed_area(after.loop) == pytest.approx(signed_area(before.loop))
    assert after.loop[:, 0].max() == 0.0
    assert after.landmarks["bust_point"] == (-90.0, 180.0)
    assert [dart.angle for dart in after.darts] == pytest.approx([dart.angle for dart in before.darts])


def test_seams_run_from_the_same_end() -> None:
    """Lengths stay, each chain is the image of what it was; so does a place on an edge."""
    start, after = garment(), BOTH.apply(garment()).garment
    for name in start.seams:
        old, new = match(start, start.seam(name)), match(after, after.seam(name))
        assert new.difference == pytest.approx(old.difference)
        assert chain_points(new.b) == pytest.approx(chain_points(old.b) * np.array((-1.0, 1.0)))
    place = Place("front.side", "waist", distance=50.0)
    points = [resolved_point(g, g.piece("front"), place) for g in (start, after)]
    assert points[1] == pytest.approx((-points[0][0], points[0][1]))


def test_left_and_right_change_places() -> None:
    """One-sided work on the left half is worn on the right after mirroring."""
    start = done(
        garment(),
        (Unfold("u", "front"), Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart")),
    )
    outcome = Mirror("m", tuple(start.pieces)).apply(start)
    piece = outcome.garment.piece("front")
    assert piece.dart("front.waist_dart").legs[0][0] < 0.0
    assert any("right half" in note.sentence for note in outcome.notes)


@pytest.mark.parametrize(
    ("step", "start", "words"),
    [
        (Mirror("m", ()), garment(), "Name a piece"),
        (Mirror("m", ("front",)), garment(), "mirror them together"),
        (Mirror("m", ("front", "sleeve")), garment(), "no piece sleeve"),
    ],
)
def test_what_cannot_be_mirrored_is_refused(step: Mirror, start: Garment, words: str) -> None:
    """Edges that are sewn together have to run opposite ways: their pieces turn together."""
    with pytest.raises(Refusal, match=words):
        step.apply(start)
