"""The rules behind a draft: what follows from which measurement, beside what handbooks give."""

from __future__ import annotations

from math import degrees, inf, nan

import pytest

from core.blocks.ease import Ease
from core.errors import Refusal
from core.geometry.placement import gap
from tests.core.blocks.drafted_bodies import Sample, client, means


def angle(sample: Sample, dart: str) -> float:
    """A dart's angle in degrees."""
    return degrees(sample.garment.piece(dart.partition(".")[0]).dart(dart).angle)


def test_usual_shoulder_dart_is_a_handbook_dart() -> None:
    """At bust 88 the front shoulder dart is near a handbook's 7 cm at 26.5 cm, 15.2 degrees.

    Handbook, second-hand (trade.md A5, C1); 5 degrees either way allow for a cup size.
    """
    assert angle(client(), "front.shoulder_dart") == pytest.approx(15.2, abs=5.0)


def test_usual_waist_dart_is_a_rule_of_thumb_dart() -> None:
    """The front waist dart of a two-dart front is 2.5 to 3.5 cm (trade.md C3, common practice, no source).

    That practice leaves 3 cm of ease in the half waist; this block leaves 1.3, so the dart may be up to 2 cm wider.
    """
    assert 25.0 <= client().front.dart("front.waist_dart").width <= 55.0


def test_side_seam_lies_where_a_handbook_puts_it() -> None:
    """The back takes 48.5 % of the bust line at bust 88 (handbook: 24.2 of 50 cm, trade.md B4), 3 % either way."""
    sample = client()
    front, back = sample.front.line("front.bust_line").length, sample.back.line("back.bust_line").length
    assert back / (front + back) == pytest.approx(0.485, abs=0.03)


def test_back_shoulder_dart_and_ease_are_a_handbook_dart() -> None:
    """At bust 88 dart and ease are 1.95 cm together (handbook: B/32 - 0.8, from memory, trade.md B4)."""
    sample = client()
    assert sample.back.dart("back.shoulder_dart").width + Ease().shoulder == pytest.approx(19.5, abs=1.0)


def test_neck_is_a_handbook_neck() -> None:
    """The front neck is 6.7 to 7.3 cm wide, the back 0.2 to 0.8 wider and raised 1.5 to 2.3 (trade.md B3, B4, B8)."""
    sample = client()
    front, back = sample.front.landmarks["side_neck"], sample.back.landmarks["side_neck"]
    assert 67.0 <= front[0] <= 73.0
    assert 2.0 <= -back[0] - front[0] <= 8.0
    assert 15.0 <= back[1] - sample.back.landmarks["nape"][1] <= 23.0


def test_mean_women_of_every_size_get_sane_darts() -> None:
    """From bust 76 to 108 no front dart passes 25 degrees (trade.md H5 warns above) or falls under 8."""
    for sample in means():
        for dart in sample.front.darts:
            assert 8.0 <= degrees(dart.angle) <= 25.0, (sample.name, dart.name)


def test_a_fuller_bust_opens_both_front_darts() -> None:
    """An inch more of bust with 5/8 in more of length over it, a cup step (trade.md C3), opens both front darts."""
    fuller = client(bust=90.54, neck_to_bust_point=28.1, front_waist_length=45.1)
    assert angle(fuller, "front.shoulder_dart") > angle(client(), "front.shoulder_dart")
    assert angle(fuller, "front.waist_dart") > angle(client(), "front.waist_dart")


def test_a_bust_under_the_high_bust_still_has_a_shoulder_dart() -> None:
    """High bust 4 cm over bust, as 1 % of the survey has it (trade.md C3): a smaller dart, no negative one."""
    flat = client(high_bust=92.0)
    assert 4.0 <= angle(flat, "front.shoulder_dart") < angle(client(), "front.shoulder_dart")


def test_shoulder_point_to_bust_point_fixes_the_shoulder_when_given() -> None:
    """Given, it is laid down: with the dart closed the shoulder point lies that far from the bust point."""
    for third, pit in ((23.0, 35.5), (24.5, 35.5), (24.0, 31.5)):
        sample = client(shoulder_point_to_bust_point=third, centre_front_length=pit)
        dart = sample.front.dart("front.shoulder_dart")
        outer = sample.front.landmarks["shoulder_point"]
        assert gap(outer, dart.pivot) == pytest.approx(10 * third, abs=0.1)


def test_a_shoulder_point_that_gives_no_shoulder_is_refused() -> None:
    """A distance that would lift the shoulder over the level is refused by its measurement's name."""
    with pytest.raises(Refusal, match="Shoulder point to bust point"):
        client(shoulder_point_to_bust_point=30.5)


def test_estimated_third_side_is_not_laid_down() -> None:
    """Where it was not measured the slope is: 4 degrees more slope lower the shoulder point."""
    assert "shoulder_point_to_bust_point" in client().measured.estimated
    higher, lower = (client(shoulder_slope_deg=slope).back.landmarks["shoulder_point"][1] for slope in (20.0, 24.0))
    assert higher > lower


def test_a_waist_as_large_as_the_bust_still_has_darts() -> None:
    """Where bust and waist leave nothing for darts the side seams lean out instead, and the waist is still right."""
    sample = client(waist=91.0, hip=100.0)
    assert min(angle(sample, f"{piece}.waist_dart") for piece in ("front", "back")) >= 3.0
    assert sample.front.landmarks["waist_side"][0] > sample.front.landmarks["underarm"][0]
    waist = sum(sample.garment.origins[f"{piece}.waist"].length for piece in ("front", "back"))
    assert waist == pytest.approx((910.0 + Ease().waist) / 2, abs=0.05)


def test_a_waist_far_over_the_bust_is_refused() -> None:
    """Side seams that lean out by more than 10 degrees are no bodice; the measurements are named."""
    with pytest.raises(Refusal, match="measurements waist and bust"):
        client(waist=101.0, hip=110.0)


def test_an_armhole_far_too_long_is_refused() -> None:
    """With 25 cm of bust ease and a thin arm no height of the underarm makes the armhole short enough."""
    with pytest.raises(Refusal, match="across front and across back"):
        client(Ease(bust=250.0, armhole_depth=60.0), scye_girth=25.5)


def test_a_bust_point_at_the_waist_is_refused() -> None:
    """Where bust and waist lie too near one another the darts would be wider than long."""
    with pytest.raises(Refusal, match="front waist length and side neck to bust point"):
        client(neck_to_bust_point=31.0, front_waist_length=35.0, under_bust_level=33.0, centre_front_length=28.0)


def test_a_pit_that_does_not_fit_the_neck_is_refused() -> None:
    """A centre front 9 cm too short would need a neck wider than the neck; three measurements are named."""
    with pytest.raises(Refusal, match="centre front length and neck base"):
        client(centre_front_length=24.0)


def test_an_arm_that_does_not_go_through_is_refused() -> None:
    """An armhole that cannot be cut deep enough over the bust is refused by name."""
    with pytest.raises(Refusal, match="armhole girth"):
        client(scye_girth=54.0)


def test_a_moved_underarm_is_said() -> None:
    """An arm that wants a deeper armhole lowers the underarm, and a note says by how much."""
    usual, wide = client(), client(scye_girth=41.5)
    assert wide.front.landmarks["underarm"][1] < usual.front.landmarks["underarm"][1]
    assert any("underarm lies" in note for note in wide.draft.notes)


def test_a_front_that_runs_out_over_a_low_bust_is_said() -> None:
    """A bust point 54 mm over the waist makes the front twice as wide under the arm as usual (house value)."""
    low = client(neck_to_bust_point=33.0, front_waist_length=40.0, under_bust_level=36.0)
    assert any("front armhole is" in note and "front waist length" in note for note in low.draft.notes)


@pytest.mark.parametrize(("pit", "word"), [(31.0, "much"), (39.2, "little")])
def test_a_neck_far_from_a_handbooks_depth_is_said(pit: float, word: str) -> None:
    """A front neck is a fifth of the neck deep, 7 cm on 35 (trade.md B8); 4 cm more or less bring a note (house)."""
    notes = client(centre_front_length=pit).draft.notes
    assert any("pit of the neck" in note and f"which is {word}" in note for note in notes)


def test_a_shoulder_measured_to_the_bone_is_said() -> None:
    """2 cm more shoulder than a dressmaker's (cutting.md 21) brings a note about where it is measured."""
    assert not client().draft.notes
    assert any("shoulder length" in note for note in client(shoulder=15.0).draft.notes)


@pytest.mark.parametrize("name", Ease.__struct_fields__)
@pytest.mark.parametrize("amount", [nan, inf, 400.0, -400.0])
def test_absurd_ease_is_refused(name: str, amount: float) -> None:
    """Ease that is no number, or far outside what the block is made for, is refused by its name."""
    with pytest.raises(Refusal, match=f"The {name.replace('_', ' ')} ease"):
        client(Ease(**{name: amount}))


def test_ease_is_laid_in_where_it_is_set() -> None:
    """20 mm more bust ease widen the bust line by half that and leave the waist; shoulder ease lengthens the back."""
    usual, wide = client(), client(Ease(bust=Ease().bust + 20.0, shoulder=8.0))
    bust = [
        sum(piece.line(f"{piece.name}.bust_line").length for piece in s.garment.pieces.values()) for s in (usual, wide)
    ]
    waist = [sum(s.garment.origins[f"{piece}.waist"].length for piece in ("front", "back")) for s in (usual, wide)]
    assert bust[1] - bust[0] == pytest.approx(10.0, abs=0.01)
    assert waist[1] == pytest.approx(waist[0], abs=0.01)
    shoulders = wide.garment.origins["back.shoulder"].length - wide.garment.origins["front.shoulder"].length
    assert shoulders == pytest.approx(8.0, abs=1e-6)
