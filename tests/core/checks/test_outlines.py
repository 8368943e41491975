"""Edges that nothing is sewn to, and outlines that do not close."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from core.checks.outlines import fabricless, outline_faults, unsewn
from core.design.replay import replay
from core.geometry.polyline import as_points
from core.pieces.outline import closed
from core.pieces.records import Garment, Piece, Seam, Span
from tests.demo_designs import concert
from tests.paper_block import garment
from tests.samples import NAMES, replayed


def with_piece(plain: Garment, piece: Piece) -> Garment:
    """The garment with its front replaced."""
    return replace(plain, pieces={**plain.pieces, "front": piece})


@pytest.mark.parametrize("name", NAMES)
def test_sample_designs_are_sewn_all_round(name: str) -> None:
    """Every edge of kind seam lies in exactly one seam, or is open on purpose."""
    assert unsewn(replayed(name).garment) == ()
    assert outline_faults(replayed(name).garment) == ()


def test_an_edge_in_no_seam_is_named() -> None:
    """Without the side seam both side edges are named, with a way out."""
    plain = garment()
    faults = unsewn(replace(plain, seams={"shoulder": plain.seams["shoulder"]}))
    assert [(fault.piece, fault.edge) for fault in faults] == [("front", "side"), ("back", "side")]
    assert "mark it as open on purpose" in faults[0].sentence


def test_an_edge_that_is_open_on_purpose_is_not_named() -> None:
    """The waist goes to the skirt; without that reason it would be named."""
    plain = garment()
    assert unsewn(plain) == ()
    assert {fault.edge for fault in unsewn(replace(plain, open_edges={}))} == {
        "waist", "waist.1", "waist.2", "centre_back",
    }  # fmt: skip


def test_an_edge_in_two_seams_is_named() -> None:
    """Sewn twice is as wrong as not at all."""
    plain = garment()
    again = Seam("again", (Span("front.side"),), (Span("back.side", backwards=True),), ("waist", "armhole"))
    faults = unsewn(replace(plain, seams={**plain.seams, "again": again}))
    assert ["sewn 2 times" in fault.sentence for fault in faults] == [True, True]


def test_a_gap_in_an_outline_is_named() -> None:
    """Edges that do not meet bit for bit."""
    plain = garment()
    front = plain.piece("front")
    moved = replace(front.edges[1], points=as_points(np.add(front.edges[1].points, (0.5, 0.0))))
    open_front = replace(front, edges=(front.edges[0], moved, *front.edges[2:]))
    faults = outline_faults(with_piece(plain, open_front))
    assert {fault.edge for fault in faults} == {moved.name, front.edges[2].name}


def test_an_outline_that_crosses_itself_is_named() -> None:
    """A side seam pulled over the fold."""
    plain = garment()
    front = plain.piece("front")
    over = {"side": as_points([(220.0, 0.0), (-50.0, 100.0), (230.0, 210.0)])}
    crossed = replace(front, edges=closed([replace(e, points=over.get(e.name, e.points)) for e in front.edges]))
    assert "crosses itself" in outline_faults(with_piece(plain, crossed))[0].sentence


def test_an_outline_the_wrong_way_round_is_named() -> None:
    """A piece that was flipped over runs clockwise."""
    plain = garment()
    front = plain.piece("front")
    turned = [replace(e, points=as_points(e.points[::-1] * (1.0, 1.0))) for e in reversed(front.edges)]
    assert "clockwise" in outline_faults(with_piece(plain, replace(front, edges=tuple(turned))))[0].sentence


def test_a_piece_of_a_fabric_that_is_not_there_is_a_fault() -> None:
    """Such a piece could not be finished or printed, so the check names it before anything is cut."""
    design = concert()
    found = fabricless(design.fabrics[:1], replay(design).garment)
    assert {fault.piece for fault in found} == {"front yoke", "inner cup", "outer cup"}
    assert not fabricless(design.fabrics, replay(design).garment)
