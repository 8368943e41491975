"""The laws of the steps, each tried on every road of every sample garment."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, tau
from typing import get_args

import msgspec
import numpy as np
import pytest

from core.geometry.planar import area, is_simple_loop
from core.geometry.polyline import signed_area
from core.pieces.names import spoken_in_full
from core.pieces.outline import cloth_area
from core.pieces.records import Garment, Piece
from core.pieces.seams import matches
from core.steps.catalogue import AnyStep
from core.steps.copy_pieces import CopyPieces
from core.steps.cup import Cup
from core.steps.flatten import Flatten
from core.steps.join import Join
from core.steps.move_edge import MoveEdge
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot
from core.steps.slash import SlashAndSpread
from core.steps.take_in import TakeIn
from core.steps.trim import Trim
from core.steps.true import Truing
from core.steps.unfold import Unfold
from tests.core.laws.sample_steps import darts_at, done, garments, panels, roads, sheer


def trials() -> Iterator[tuple[str, Garment, tuple[AnyStep, ...]]]:
    """Every sample garment with every road."""
    return ((name, garment, road) for name, garment in garments().items() for road in roads(garment))


TRIALS = [pytest.param(garment, road, id=f"{name}-{'-'.join(s.id for s in road)}") for name, garment, road in trials()]
on_every_road = pytest.mark.parametrize(("garment", "road"), TRIALS)


def figures(garment: Garment) -> list[tuple[str, bytes, tuple[object, ...], object]]:
    """Every number of a garment, for saying that two are equal bit for bit."""
    return [
        (
            piece.name,
            piece.loop.tobytes(),
            tuple((dart.name, dart.pivot, dart.legs, dart.point) for dart in piece.darts),
            (
                piece.number,
                piece.fabric,
                piece.grain,
                dict(piece.landmarks),
                [line.path.tobytes() for line in piece.lines],
            ),
        )
        for piece in garment.pieces.values()
    ]


@on_every_road
def test_the_argument_is_left_as_it_was(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """A step never alters the garment it is given."""
    start = done(garment, road[:-1])
    before = figures(start)
    road[-1].apply(start)
    assert figures(start) == before


@on_every_road
def test_done_twice_is_the_same_bit_for_bit(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """A step's outcome depends on nothing but its record and the garment."""
    assert figures(done(garment, road)) == figures(done(garment, road))


@on_every_road
def test_every_outline_is_closed_simple_and_counter_clockwise(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """Edges meet bit for bit, the loop nowhere crosses itself, and shapely finds the same area."""
    for piece in done(garment, road).pieces.values():
        assert is_simple_loop(piece.loop), piece.name
        assert signed_area(piece.loop) == pytest.approx(area(piece.loop), rel=1e-12)
        for index, edge in enumerate(piece.edges):
            assert (piece.edges[index - 1].points[-1] == edge.points[0]).all(), (piece.name, edge.name)


@on_every_road
def test_dart_legs_stay_equal(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """Each open dart has two legs of one length, whose ends are the ends of its base."""
    for piece in done(garment, road).pieces.values():
        for dart in piece.darts:
            base = piece.edge(dart.base).points
            assert [tuple(base[0]), tuple(base[-1])] == [pytest.approx(leg, abs=1e-9) for leg in dart.legs]
            a, b = (((leg[0] - dart.pivot[0]) ** 2 + (leg[1] - dart.pivot[1]) ** 2) ** 0.5 for leg in dart.legs)
            assert a == pytest.approx(b, abs=1e-6)


@on_every_road
def test_cloth_is_neither_made_nor_lost(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """Only a neckline and taking in take cloth away, only a cup, a copy, a slash or a trim add to it.

    Truing, flattening and moving an edge do both, and say how much; unfolding doubles it.
    """
    start, after = done(garment, road[:-1]), done(garment, road)
    before, now = (sum(cloth_area(piece) for piece in g.pieces.values()) for g in (start, after))
    if isinstance(road[-1], TakeIn) and any(level.a < 0.0 for level in road[-1].levels):
        assert now > before
    elif isinstance(road[-1], Neckline | TakeIn) or (isinstance(road[-1], SlashAndSpread) and road[-1].width < 0.0):
        assert now < before
    elif isinstance(road[-1], Cup | CopyPieces | SlashAndSpread):
        assert now > before
    elif isinstance(road[-1], Pivot) and road[-1].becomes != "dart":
        assert now > before, "gathers hold the paper of the wedge"
    elif isinstance(road[-1], Unfold):
        assert now == pytest.approx(2 * before)
    elif isinstance(road[-1], Truing | Flatten | MoveEdge | Join):
        assert any(note.kind == "paper" for note in road[-1].apply(start).notes) or now == pytest.approx(before)
    elif not isinstance(road[-1], Trim):
        assert now == pytest.approx(before, abs=1e-4)


@on_every_road
def test_no_seam_is_changed_unlisted(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """A seam's difference stays, or the outcome's notes name the seam."""
    start = done(garment, road[:-1])
    outcome = road[-1].apply(start)
    before = {found.seam.name: found.difference for found in matches(start)}
    for found in matches(outcome.garment):
        name = found.seam.name
        same = abs(found.difference - before.get(name, 0.0)) <= 0.01
        trimmed = name == getattr(road[-1], "seam", "")
        assert same or trimmed or any(spoken_in_full(name) in note.sentence for note in outcome.notes), name


@on_every_road
def test_every_seam_edge_is_sewn_once_or_open_on_purpose(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """No edge of kind seam is forgotten, and none is in two seams."""
    after = done(garment, road)
    for piece, edge in after.edges():
        if edge.kind == "seam":
            key = (edge.origin.edge, edge.origin.side)
            count = sum(key == (s.edge, s.side) for seam in after.seams.values() for s in (*seam.a, *seam.b))
            assert count == 1 or (count == 0 and edge.origin.edge in after.open_edges), (piece.name, edge.name)


@on_every_road
def test_saved_and_loaded_it_does_the_same(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """A step that went through JSON is the same step."""
    row = tuple(road)
    loaded = msgspec.json.decode(msgspec.json.encode(row), type=tuple[AnyStep, ...])
    assert loaded == row
    assert figures(done(garment, loaded)) == figures(done(garment, road))


@on_every_road
def test_it_says_itself_in_one_sentence(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """One sentence, in inches or centimetres, that ends with a full stop."""
    start = done(garment, road[:-1])
    for sentence in (road[-1].sentence(start, "in"), road[-1].sentence(start, "cm")):
        assert sentence.endswith(".")
        assert ". " not in sentence.replace("1. ", "")


@on_every_road
def test_its_sentence_is_told_from_what_it_did(
    garment: Garment, road: tuple[AnyStep, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """With its effect at hand a step says the same sentence, and does nothing again for it."""
    start, step = done(garment, road[:-1]), road[-1]
    words, effect = step.sentence(start, "in"), step.effect(start)

    def again(*_: object) -> None:
        pytest.fail(f"a {type(step).__name__} is done again for its sentence")

    monkeypatch.setattr(type(step), "effect", again)
    assert step.told(start, effect, "in") == words


def test_the_roads_hold_every_kind() -> None:
    """No kind of step escapes the laws."""
    assert {type(road[-1]) for _, _, road in trials()} == set(get_args(AnyStep))


@pytest.mark.parametrize("name", garments())
def test_closing_every_dart_leaves_a_cone(name: str) -> None:
    """About the bust point the panels' corners add up to the full turn less both darts (Gauss-Bonnet, a cone)."""
    garment = garments()[name]
    block = garment.piece("front")
    pivot = block.landmarks["bust_point"]
    after = done(garment, (sheer(garment), panels(garment)))
    corners = [corner_at(after.piece(panel), pivot) for panel in ("yoke", "centre front", "side front")]
    assert sum(corners) == pytest.approx(tau - darts_at(block, pivot), abs=1e-6)


@pytest.mark.parametrize(("garment", "road"), [(g, road) for _, g, road in trials() if isinstance(road[-1], Pivot)])
def test_a_pivot_leaves_the_cone_as_it_was(garment: Garment, road: tuple[AnyStep, ...]) -> None:
    """However the darts were moved, cloth goes as far round their pivot as before (Gauss-Bonnet, a cone).

    Measured by the outline alone: the angles under which its edges that are cloth are seen from the pivot. Paper that
    is drawn up in ease or gathers is seen too, and counts as the dart that it was.
    """
    start, after = done(garment, road[:-1]), done(garment, road)
    pivot = start.piece("front").landmarks["bust_point"]
    before, now = (seen_from(g.piece("front"), pivot) for g in (start, after))
    assert before == pytest.approx(tau - darts_at(start.piece("front"), pivot), abs=1e-9)
    drawn_up = sum(held.angle for held in after.piece("front").eased)
    assert now - drawn_up == pytest.approx(before, abs=1e-9)


def seen_from(piece: Piece, place: tuple[float, float]) -> float:
    """The angle (radians) under which a piece's edges are seen from a place inside it, bases of open darts left out."""
    found = 0.0
    for edge in piece.edges:
        if edge.kind != "dart base":
            dx, dy = (edge.points - place).T
            turned = np.unwrap(np.arctan2(dy, dx))
            found += float(turned[-1] - turned[0])
    return found


def corner_at(piece: Piece, place: tuple[float, float]) -> float:
    """Interior angle of an outline at the vertex on a place, in radians."""
    loop = piece.loop
    index = min(range(len(loop)), key=lambda i: (loop[i][0] - place[0]) ** 2 + (loop[i][1] - place[1]) ** 2)
    before, here, after = loop[index - 1], loop[index], loop[(index + 1) % len(loop)]
    return (atan2(*(before - here)[::-1]) - atan2(*(after - here)[::-1])) % tau
