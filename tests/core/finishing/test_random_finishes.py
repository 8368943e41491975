"""Whatever is said about the edges of a bodice, its pieces can be cut: the law of the cutting line on real pieces."""

from __future__ import annotations

from typing import get_args

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, LineString, Polygon, points

from core.design.finishes import EDGE_USES, EdgeFinish, Finishing, PressedDart
from core.finishing.finish import Finished, finish
from core.geometry.margins import EndKind
from core.geometry.polyline import point_at
from core.pieces.places import place_at
from core.pieces.records import Edge, Garment, Piece
from tests.samples import EVERY_NAME, design, replayed

SLACK = 0.05
ALLOWANCES = st.sampled_from((0.0, 3.0, 6.35, 12.7, 25.4, 40.0))
ENDS = st.sampled_from(("", *get_args(EndKind)))


@st.composite
def finishings(draw: st.DrawFn, garment: Garment) -> Finishing:
    """Uses, allowances, stretches and ends for the edges of a garment, darts pressed either way."""
    edges = []
    for piece, edge in garment.edges():
        if edge.kind not in ("fold", "dart base") and draw(st.booleans()):
            edges.append(draw(_whole(piece, edge)))
            if edge.length > 60.0 and draw(st.booleans()):
                edges.append(draw(_stretch(garment, piece, edge)))
    darts = [
        PressedDart(piece.name, dart.name, draw(st.sampled_from(("centre", "side"))))
        for piece in garment.pieces.values()
        for dart in piece.darts
    ]
    return Finishing(tuple(edges), darts=tuple(darts), corners=draw(st.sampled_from(("mitred", "squared"))))


@st.composite
def _whole(draw: st.DrawFn, piece: Piece, edge: Edge) -> EdgeFinish:
    allowance, use = draw(st.none() | ALLOWANCES), draw(st.sampled_from(EDGE_USES))
    ends = (draw(ENDS), draw(ENDS))
    return EdgeFinish(piece.name, edge.origin.edge, edge.origin.side, use, allowance, ends=ends)


@st.composite
def _stretch(draw: st.DrawFn, garment: Garment, piece: Piece, edge: Edge) -> EdgeFinish:
    start = draw(st.floats(0.0, 0.6)) * edge.length
    stop = start + draw(st.floats(0.1, 0.4)) * edge.length
    places = place_at(garment, edge, start), place_at(garment, edge, stop)
    return EdgeFinish(piece.name, edge.origin.edge, edge.origin.side, "plain", draw(ALLOWANCES), *places)


@pytest.mark.parametrize("name", EVERY_NAME)
def test_every_piece_can_be_cut_whatever_is_said_of_its_edges(name: str) -> None:
    """No cutting line crosses itself or cuts into its piece, and none lacks allowance away from its corners."""
    garment = replayed(name).garment

    @settings(max_examples=3)
    @given(finishings(garment))
    def hold(finishing: Finishing) -> None:
        for piece in finish(msgspec.structs.replace(design(name), finishing=finishing), garment):
            ring = LinearRing(piece.cutting_line)
            assert ring.is_simple
            assert ring.is_ccw
            assert Polygon(piece.cutting_line).buffer(1e-4).covers(Polygon(piece.piece.loop))
            _keeps_its_allowances(piece)

    hold()


def _keeps_its_allowances(piece: Finished) -> None:
    """Farther from a stretch's ends than any neighbour's line can reach, the cutting line is far enough away."""
    line = LineString(piece.cutting_line)
    reach = 1.0 + 2.6 * max(part.allowance for edge in piece.edges.values() for part in edge.stretches)
    for edge in piece.edges.values():
        if edge.edge.kind in ("fold", "dart base"):
            continue
        for part in edge.stretches:
            stations = np.arange(part.start + reach, part.stop - reach, 3.0)
            if len(stations):
                off = line.distance(points([point_at(edge.edge.points, at) for at in stations]))
                assert np.min(off) >= part.allowance - SLACK
