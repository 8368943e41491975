"""What a cutter would stop at, each made on purpose in a bodice that is good without it."""

from __future__ import annotations

from math import nan, pi

import msgspec
import pytest
from msgspec.structs import replace

from core.checks.cutting import CuttingCheck, cutting_checks, width_across
from core.checks.other_half import lacking_other_half
from core.checks.report import report
from core.design.design import Design
from core.design.finishes import Doubled, EdgeFinish, Finishing
from core.design.replay import Replay
from core.design.replay import replay as replayed_anew
from core.finishing.finish import finish
from core.steps.choose_fabric import ChooseFabric
from core.steps.copy_pieces import CopyPieces
from core.steps.mirror import Mirror
from core.steps.move_edge import MoveEdge
from core.steps.unfold import Unfold
from tests.demo_designs import ice
from tests.samples import NAMES, design, replayed


def checks(made: Design, sample: str = "concert") -> tuple[CuttingCheck, ...]:
    """The checks of a sample's garment with another design's wishes."""
    return cutting_checks(replace(replayed(sample), design=made))


def finishing(*edges: EdgeFinish, doubled: tuple[Doubled, ...] = ()) -> Design:
    """The concert bodice with finishes."""
    return msgspec.structs.replace(design("concert"), finishing=Finishing(edges=edges, doubled=doubled))


def only(found: tuple[CuttingCheck, ...]) -> CuttingCheck:
    """The one check, with its sign and word."""
    assert len(found) == 1, [one.sentence for one in found]
    assert found[0].sign in "?≠"
    return found[0]


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_said_of_a_good_bodice(name: str) -> None:
    """The samples as they are: no check without a cause."""
    assert cutting_checks(replayed(name)) == ()


def test_a_dart_in_a_sheer_panel_is_named() -> None:
    """The ice dancer's lower back has its waist dart open, which is right in the main fabric and not in the net."""
    made = ice()
    assert not any("sheer panel" in one.sentence for one in cutting_checks(replayed_anew(made)))
    sheer = made.with_step(ChooseFabric("choose-fabric-1", "lower back", "sheer"))
    found = only(tuple(one for one in cutting_checks(replayed_anew(sheer)) if "sheer panel" in one.sentence))
    assert (found.verdict, found.piece) == ("check", "lower back")
    assert found.sentence.startswith("The waist dart (11.5 degrees) is open in the lower back")
    assert "flatten it" in found.sentence


def test_a_piece_wider_than_its_cloth_is_named() -> None:
    """Lace 110 mm wide cannot hold the side front; one a hair wider than the widest piece can."""
    made = design("concert")
    widest = max(width_across(piece) for piece in finish(made, replayed("concert").garment) if
                 piece.fabric.name == "main")  # fmt: skip
    for wide, names in ((110.0, {"side front", "centre front", "centre back", "side back"}), (widest + 0.1, set())):
        cloth = tuple(
            msgspec.structs.replace(fabric, usable_width=wide) if fabric.name == "main" else fabric
            for fabric in made.fabrics
        )
        found = checks(msgspec.structs.replace(made, fabrics=cloth))
        assert {one.piece for one in found} <= names
        assert bool(found) == bool(names)
        assert all(one.verdict == "wrong" and "take wider cloth" in one.sentence for one in found)


def test_satin_sewn_without_an_allowance_would_fray() -> None:
    """0 at the side of one panel is a check; on stretch mesh it is how it is cut."""
    both = [EdgeFinish(name, edge, allowance=0.0) for name, edge in (("side front", "front.side"),
                                                                     ("side back", "back.side"))]  # fmt: skip
    found = checks(finishing(*both))
    assert {one.piece for one in found} == {"side front", "side back"}
    assert all("would fray" in one.sentence and one.verdict == "check" for one in found)
    assert checks(finishing(EdgeFinish("front yoke", "front.shoulder", allowance=0.0))) == ()


def test_a_lapped_edge_has_no_allowance() -> None:
    """Lapped raw with 3 mm outside it is a check, with 0 it is none."""
    one = EdgeFinish("front yoke", "front.shoulder", use="lapped raw")
    assert checks(finishing(one)) == ()
    assert "cut it on its line" in only(checks(finishing(msgspec.structs.replace(one, allowance=3.0)))).sentence


def test_mates_of_one_cloth_have_one_allowance() -> None:
    """An inch at one side and half an inch at the other: the cut edges do not meet."""
    found = only(checks(finishing(EdgeFinish("side front", "front.side", allowance=25.4))))
    assert "side front has 1 in outside it and side back 1/2 in" in found.sentence


def test_mates_on_different_grain_are_named() -> None:
    """A side back laid across the cloth: its seams lie a quarter turn off their mates' grain."""
    garment = replayed("concert").garment
    piece = replace(garment.piece("side back"), grain=garment.piece("side back").grain + pi / 2)
    turned = replace(garment, pieces={**garment.pieces, "side back": piece})
    stages = (*replayed("concert").stages[:-1], replace(replayed("concert").stages[-1], garment=turned))
    found = cutting_checks(replace(replayed("concert"), stages=stages))
    assert {one.verdict for one in found} == {"check"}
    assert all("turn the grain of one" in one.sentence and "side back" in one.sentence for one in found)
    assert found


def test_a_lining_that_no_longer_lies_on_its_piece_is_named() -> None:
    """The waist of the side front is moved 6 mm after it was copied: the layer's seams lie 6 mm off."""
    made = design("concert").with_step(CopyPieces("copy-1", ("side front",)))
    assert cutting_checks(replayed_anew(made)) == ()
    found = only(cutting_checks(replayed_anew(made.with_step(MoveEdge("move-1", "side front", "waist", 6.0)))))
    assert found.verdict == "wrong"
    assert found.piece == "lining side front"
    assert "copy it afresh" in found.sentence


def test_a_layer_that_is_cut_otherwise_than_its_piece_is_named() -> None:
    """The front is unfolded after its lining was copied: one whole front, and a lining still cut on the fold."""
    made = design("concert").with_step(CopyPieces("copy-1", ("centre front",)))
    found = cutting_checks(replayed_anew(made.with_step(Unfold("unfold-1", "centre front"))))
    assert any("is cut on the fold and the centre front that it lies on once" in one.sentence for one in found)


def test_a_piece_for_one_half_alone_is_named() -> None:
    """Once left and right are drawn apart, a lining copied from the left side front alone leaves the right unlined.

    Copied from both it is whole. A lining that is cut as a pair, or lies over the centre, wants no other.
    """
    apart = design("concert").with_step(Unfold("unfold-1", "centre front"))
    assert not lacking(apart)
    alone = apart.with_step(CopyPieces("copy-1", ("side front", "centre front")))
    assert lacking(alone) == {"lining side front": "right half has none"}
    right = apart.with_step(CopyPieces("copy-1", ("right side front",)))
    assert lacking(right) == {"lining right side front": "left half has none"}
    assert not lacking(apart.with_step(CopyPieces("copy-1", ("side front", "right side front"))))
    assert not lacking(design("concert").with_step(CopyPieces("copy-1", ("side front",))))


def lacking(made: Design) -> dict[str, str]:
    """The pieces said to be without their other half, and which half has none."""
    found = (one for one in cutting_checks(replayed_anew(made)) if "is cut once only" in one.sentence)
    return {one.piece: one.sentence.split(" her ")[1].split(":")[0] for one in found}


def test_one_of_a_pair_that_is_turned_over_alone_is_named() -> None:
    """Two right backs and no left one, though their names and edges still say left and right."""
    apart = Unfold("unfold-1", "front").apply(replayed("block").garment).garment
    assert not dict(lacking_other_half(apart))
    over = Mirror("mirror-1", ("back",)).apply(replace(apart, seams={})).garment
    assert dict(lacking_other_half(over)) == {"back": "right", "right back": "right"}


def test_a_turning_gap_without_room_and_a_finish_without_its_edge_are_named() -> None:
    """After lines have moved: 200 mm in a shoulder of 102, and a zip in a piece that is gone."""
    found = only(checks(finishing(doubled=(Doubled("front yoke", "front.shoulder", gap=200.0),))))
    assert found.verdict == "wrong"
    assert "no room for the gap" in found.sentence
    lost = only(checks(finishing(EdgeFinish("middle back", "back.centre_back", use="zip"))))
    assert "has lost its edge" in lost.sentence


def test_the_report_counts_them() -> None:
    """A check among them keeps the design from passing."""
    good: Replay = replayed("concert")
    made = finishing(EdgeFinish("side front", "front.side", allowance=25.4))
    assert report(good).cutting == ()
    assert report(replace(good, design=made)).worst == "check"


def with_piece(name: str, **others: object) -> Replay:
    """The concert bodice with one of its pieces altered, as no step would."""
    good = replayed("concert")
    piece = replace(good.garment.piece(name), **others)
    garment = replace(good.garment, pieces={**good.garment.pieces, name: piece})
    return replace(good, stages=(*good.stages[:-1], replace(good.stages[-1], garment=garment)))


def test_a_piece_without_a_grain_line_is_named() -> None:
    """Its cutter would not know how to lay it."""
    found = cutting_checks(with_piece("side front", grain=nan))
    assert [(one.verdict, one.piece) for one in found if "has no grain line" in one.sentence] == [
        ("wrong", "side front")
    ]


def test_two_pieces_of_one_number_are_named() -> None:
    """Both would be sewn for the other: their marks and arrows go by numbers."""
    number = replayed("concert").garment.piece("centre front").number
    found = only(cutting_checks(with_piece("side front", number=number)))
    assert found.verdict == "wrong"
    assert f"both have the number {number}" in found.sentence


def test_a_second_tulle_whose_seam_shows_through_is_named() -> None:
    """The yoke's sheer line is moved 3 mm after a second layer was cut of it: its seam lies beside the first's."""
    made = design("concert").with_step(CopyPieces("copy-1", ("front yoke",), "second", "sheer"))
    found = cutting_checks(replayed_anew(made.with_step(MoveEdge("move-1", "front yoke", "neck", 3.0))))
    assert any("shows through" in one.sentence and one.piece == "second front yoke" for one in found)
