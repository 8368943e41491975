"""The check that the tests switch on: it is on here, in every process started here, and finds what it is there for."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace

from core.geometry.polyline import as_points
from core.pieces import proof
from core.pieces.proof import fault, proved
from core.pieces.records import Change, Edge, Origin, Piece
from core.steps import step
from core.steps.step import Effect, outcome
from tests.paper_block import garment as paper_garment

ROOT = Path(__file__).resolve().parents[3]


def square(*corners: tuple[float, float]) -> Piece:
    """A piece of four straight edges."""
    ends = [*corners[1:], corners[0]]
    pairs = zip(corners, ends, strict=True)
    edges = [Edge(f"e{k}", "raw", as_points(pair), Origin(f"e{k}", 0.0, 1.0)) for k, pair in enumerate(pairs)]
    return Piece("square", "front", tuple(edges))


SOUND = square((0, 0), (10, 0), (10, 10), (0, 10))


def test_it_is_on_in_every_test_and_every_process_that_a_test_starts() -> None:
    """And off where nobody asks for it: the dressmaker's drags are not slowed."""
    assert proof.IS_ON
    asking = [sys.executable, "-c", "from core.pieces.proof import IS_ON; print(IS_ON)"]
    for environment, answer in ((None, "True"), ({"PATH": ""}, "False")):
        done = subprocess.run(asking, cwd=ROOT, env=environment, capture_output=True, text=True, check=True)
        assert done.stdout.strip() == answer


def test_a_sound_piece_has_no_fault() -> None:
    """A square, and all that the paper block is made of."""
    assert fault(SOUND) == ""
    assert [fault(piece) for piece in paper_garment().pieces.values()] == ["", ""]


def test_an_unsound_outline_is_found() -> None:
    """Crossing itself, running clockwise, open by less than can be seen."""
    assert fault(square((0, 0), (10, 10), (10, 0), (0, 10))) == "its outline crosses itself"
    assert fault(square((0, 10), (10, 10), (10, 0), (0, 0))) == "-100.0 mm² by us, 100.0 by shapely"
    first, *rest = SOUND.edges
    apart = replace(first, points=as_points(np.add(first.points, ((0.0, 0.0), (1e-12, 0.0)))))
    assert fault(replace(SOUND, edges=(apart, *rest))) == "open before e1"


@pytest.mark.parametrize(
    ("name", "words"), [("area", "100.0 mm² by us, 100.001 by"), ("perimeter", "40.0 mm round by us, 40.001 by")]
)
def test_measures_that_disagree_are_found(monkeypatch: pytest.MonkeyPatch, name: str, words: str) -> None:
    """By a hundred thousandth."""
    real = getattr(proof, name)
    monkeypatch.setattr(proof, name, lambda loop: real(loop) + 0.001)
    assert fault(SOUND).startswith(words)


@pytest.mark.parametrize("where", ["pieces", "added"])
def test_no_step_gets_by_with_an_unsound_piece(monkeypatch: pytest.MonkeyPatch, where: str) -> None:
    """Whether it replaces one or adds one; switched off, nothing is asked."""
    crossing = square((0, 0), (10, 10), (10, 0), (0, 10))
    change = Change(pieces={"front": (crossing,)}) if where == "pieces" else Change(added=(crossing,))
    with pytest.raises(AssertionError, match="square: its outline crosses itself"):
        outcome(paper_garment(), Effect(change))
    monkeypatch.setattr(step, "IS_ON", False)
    assert "square" in outcome(paper_garment(), Effect(change)).garment.pieces
    assert proved(Change(added=(SOUND,))).added == (SOUND,)
