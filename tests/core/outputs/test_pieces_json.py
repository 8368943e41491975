"""The pieces as JSON: the format of the design page, consistent in itself and with what shapely measures."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import jsonschema
import msgspec
import numpy as np
import pytest
from shapely.geometry import LinearRing, Polygon

from core.design.replay import replay
from core.errors import Refusal
from core.outputs.pieces_json import pieces_document
from core.pieces.places import Place
from core.pieces.records import EDGE_KINDS
from core.shipped import asset
from core.steps.pivot import Pivot
from tests.samples import NAMES, design, replayed


@cache
def document(name: str) -> dict[str, Any]:
    """A sample design's document, through JSON and back."""
    written = json.dumps(pieces_document(design(name), replayed(name)), allow_nan=False)
    read: dict[str, Any] = json.loads(written)
    return read


def size(points: list[list[float]]) -> float:
    """Length of a polyline."""
    return float(np.hypot(*np.diff(np.array(points), axis=0).T).sum())


@pytest.mark.parametrize("name", NAMES)
def test_every_field_of_the_format_is_there(name: str) -> None:
    """The keys of design.md 12; edges may have three more, where they say something."""
    found = document(name)
    assert set(found) == {
        "schema", "units", "body", "estimated", "ease", "landmarks", "pieces", "seams", "stages",
    }  # fmt: skip
    assert (found["schema"], found["units"]) == (1, "mm")
    for piece in found["pieces"]:
        assert set(piece) - {"eased"} == {
            "name", "number", "fabric", "role", "layers", "cut", "grain", "edges", "cutting_line", "darts", "notches",
            "area_mm2",
        }  # fmt: skip
        assert piece["cut"] in ("fold", "pair", "single")
        for edge in piece["edges"]:
            assert set(edge) - {"finish", "open", "allowances"} == {"name", "kind", "allowance", "points"}
        assert {edge["kind"] for edge in piece["edges"]} <= set(EDGE_KINDS)
        for dart in piece["darts"]:
            assert set(dart) == {"name", "pivot", "point", "legs", "angle_deg", "edge"}
        for notch in piece["notches"]:
            assert set(notch) == {"edge", "at_mm"}
    for seam in found["seams"]:
        assert set(seam) == {
            "name", "a", "b", "length_a_mm", "length_b_mm", "ease_mm", "difference_mm", "verdict",
        }  # fmt: skip
        assert {key for link in (*seam["a"], *seam["b"]) for key in link} == {"piece", "edge", "reversed"}
    for stage in found["stages"]:
        assert set(stage) == {"step", "kind", "sentence", "pieces"}


@pytest.mark.parametrize("name", NAMES)
def test_outlines_close_and_run_counter_clockwise(name: str) -> None:
    """Each edge begins where the one before it ends, to the last digit; so does the cutting line."""
    for piece in document(name)["pieces"]:
        edges = piece["edges"]
        for before, after in zip([edges[-1], *edges], edges, strict=False):
            assert before["points"][-1] == after["points"][0]
        loop = LinearRing([point for edge in edges for point in edge["points"][:-1]])
        assert loop.is_simple
        assert loop.is_ccw
        assert piece["cutting_line"][0] == piece["cutting_line"][-1]


@pytest.mark.parametrize("name", NAMES)
def test_areas_and_angles_are_those_of_the_points(name: str) -> None:
    """Cloth is the loop less the wedges of its open darts, by shapely; a dart's angle that between its legs."""
    for piece in document(name)["pieces"]:
        loop = Polygon([point for edge in piece["edges"] for point in edge["points"][:-1]])
        wedges = sum(Polygon([dart["pivot"], *dart["legs"]]).area for dart in piece["darts"])
        assert piece["area_mm2"] == pytest.approx(loop.area - wedges, abs=0.01)
        for dart in piece["darts"]:
            u, v = (np.subtract(leg, dart["pivot"]) for leg in dart["legs"])
            angle = np.degrees(np.arccos(u @ v / np.hypot(*u) / np.hypot(*v)))
            assert dart["angle_deg"] == pytest.approx(angle, abs=1e-4)
            assert dart["edge"] in {edge["name"] for edge in piece["edges"]}


@pytest.mark.parametrize("name", NAMES)
def test_seams_are_as_long_as_their_edges(name: str) -> None:
    """Nothing else is counted, open darts least of all."""
    edges = {
        (piece["name"], edge["name"]): edge["points"] for piece in document(name)["pieces"] for edge in piece["edges"]
    }
    for seam in document(name)["seams"]:
        lengths = [sum(size(edges[link["piece"], link["edge"]]) for link in seam[side]) for side in ("a", "b")]
        assert lengths == pytest.approx([seam["length_a_mm"], seam["length_b_mm"]], abs=1e-3)
        assert seam["difference_mm"] == pytest.approx(lengths[0] - lengths[1] - seam["ease_mm"], abs=1e-3)
        assert seam["verdict"] == "exact"


@pytest.mark.parametrize("name", NAMES)
def test_every_seam_edge_is_sewn_once_or_open_on_purpose(name: str) -> None:
    """Counted over the document's own chains."""
    found = document(name)
    sewn = [(link["piece"], link["edge"]) for seam in found["seams"] for link in (*seam["a"], *seam["b"])]
    assert len(set(sewn)) == len(sewn)
    garment = replayed(name).garment
    for piece in found["pieces"]:
        for edge in piece["edges"]:
            origin = garment.piece(piece["name"]).edge(edge["name"]).origin.edge
            if edge["kind"] == "seam" and origin not in garment.open_edges:
                assert (piece["name"], edge["name"]) in sewn


def test_body_and_estimates_are_told() -> None:
    """What was measured is there as it was measured, what was not is named as estimated."""
    found, measured = document("concert"), design("concert").body.measurements
    for id_, value in measured.items():
        assert found["body"][id_] == pytest.approx(value, abs=1e-5)
    assert set(found["estimated"]) == set(found["body"]) - set(measured)
    assert found["ease"]["bust"] == design("concert").ease.bust
    assert found["landmarks"]["side front"]["bust_point"] == found["landmarks"]["centre front"]["bust_point"]


def test_numbers_are_unique_and_have_four_decimals_or_more() -> None:
    """Points keep a millionth of a millimetre."""
    found = document("concert")
    numbers = [piece["number"] for piece in found["pieces"]]
    assert sorted(numbers) == list(range(1, len(numbers) + 1))
    exact = replayed("concert").garment.piece("front yoke").edge("neck").points
    written = next(e for p in found["pieces"] if p["name"] == "front yoke" for e in p["edges"] if e["name"] == "neck")
    assert np.abs(np.array(written["points"]) - exact).max() < 1e-6


def test_the_garment_after_a_step() -> None:
    """Pieces and stages as they were then; the pivot keeps the sum of the dart angles."""
    made, done = design("concert"), replayed("concert")
    ids = [step.id for step in made.steps]
    first = pieces_document(made, done, after=ids[0])
    assert [stage["step"] for stage in first["stages"]] == ids[:1]
    assert [piece["name"] for piece in first["pieces"]] == ["front", "back"]
    assert [stage["step"] for stage in document("concert")["stages"]] == ids
    drawn = sum(dart.angle for dart in done.block.piece("front").darts)
    left = next(piece for piece in first["pieces"] if piece["name"] == "front")
    assert sum(np.radians(dart["angle_deg"]) for dart in left["darts"]) == pytest.approx(drawn, abs=1e-6)


def test_a_step_that_is_not_there_is_refused() -> None:
    """With those there are."""
    with pytest.raises(Refusal, match="no finished step cut-99"):
        pieces_document(design("concert"), replayed("concert"), after="cut-99")


def test_a_design_with_a_refused_step_has_no_document() -> None:
    """But what was there before the step can still be had."""
    bad = design("concert").with_step(Pivot("pivot-9", "centre front", "front.no_dart", into="front.waist_dart"))
    done = replay(bad)
    assert done.refused is not None
    with pytest.raises(Refusal, match="no open no dart"):
        pieces_document(bad, done)
    last = bad.steps[-2].id
    assert pieces_document(bad, done, after=last)["pieces"] == document("concert")["pieces"]


def test_ease_and_gathers_are_told_by_edge_limits_and_amount() -> None:
    """Half a shoulder dart gathered into the side: limits 40 mm on each side of the place, notched.

    The stretch is longer by what was added than the 80 mm that are sewn; pieces without ease have no such key.
    """
    place = Place("front.side", "waist", share=0.5)
    step = Pivot("p", "front", "front.shoulder_dart", place=place, share=0.5, becomes="gathers", reach=40.0)
    made = msgspec.structs.replace(design("concert"), steps=(step,))
    document = pieces_document(made, replay(made))
    schema = json.loads(asset("schema", "pieces.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(schema).validate(document)
    front, back = document["pieces"]
    assert "eased" not in back
    (held,) = front["eased"]
    assert (held["edge"], held["kind"]) == ("side", "gathers")
    side = next(edge for edge in front["edges"] if edge["name"] == "side")
    assert held["to_mm"] - held["from_mm"] == pytest.approx(80.0 + held["amount_mm"], abs=1e-4)
    drawn = replay(made).block.piece("front").edge("side").length
    assert size(side["points"]) - drawn == pytest.approx(held["amount_mm"], abs=1e-3)
    assert {"edge": "side", "at_mm": held["from_mm"]} in front["notches"]
