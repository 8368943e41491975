"""How much is left outside each edge."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from core.design.design import Allowances
from core.fabrics.catalogue import Fabric, named
from core.fabrics.shelf import default_fabrics
from core.finishing.allowances import beside, finished_edges
from core.pieces.records import Piece
from tests.paper_block import back, front, garment
from tests.samples import design

MAIN, SHEER = named(default_fabrics(), "main"), named(default_fabrics(), "sheer")


def given_to(piece: Piece, fabric: Fabric, wanted: Allowances) -> dict[str, float]:
    """The allowance of every edge of a piece by its name, with nothing said about any of them."""
    plain = msgspec.structs.replace(design("block"), allowances=wanted)
    return {name: edge.allowance for name, edge in finished_edges(garment(), piece, fabric, plain).items()}


def test_every_kind_of_edge_has_its_own() -> None:
    """A fold has none, whatever the rest has."""
    given = given_to(front(), MAIN, Allowances(seam=12.7, hem=30.0, opening=6.0, raw=0.0))
    assert given["centre_front"] == 0.0
    assert given["side"] == 12.7
    assert given["neck"] == given["armhole"] == 6.0


def test_half_an_inch_all_round_is_the_default() -> None:
    """Common practice, no source."""
    given = given_to(back(), MAIN, Allowances())
    assert set(given.values()) == {12.7}


def test_the_fabric_wins() -> None:
    """Stretch mesh is cut without any; a fabric that says 6 mm has 6 mm on every edge but the fold."""
    assert set(given_to(front(), SHEER, Allowances()).values()) == {0.0}
    six = given_to(front(), msgspec.structs.replace(MAIN, allowance=6.0), Allowances())
    assert six.pop("centre_front") == 0.0
    assert set(six.values()) == {6.0}


def test_a_dart_has_what_the_edge_has_that_its_cap_continues() -> None:
    """A dart in an armhole of 6 mm is cut with 6 mm, one in the shoulder seam with 12.7."""
    piece = front()
    opening = replace(piece, edges=tuple(replace(e, kind="hem") if e.name == "waist.1" else e for e in piece.edges))
    given = given_to(opening, MAIN, Allowances(seam=12.7, hem=30.0))
    assert given["waist_dart"] == 30.0
    assert given["shoulder_dart"] == 12.7


def test_darts_are_pressed_towards_the_centre() -> None:
    """On the front the loop meets the waist dart's inner leg first and the shoulder dart's inner leg last."""
    piece = front()
    assert [beside(piece, piece.dart(f"front.{name}"))[0].name for name in ("waist_dart", "shoulder_dart")] == [
        "waist.1", "shoulder.2",
    ]  # fmt: skip
