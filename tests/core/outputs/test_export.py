"""SVG and DXF read back by readers that are not ours, and the pieces' JSON held to its schema."""

from __future__ import annotations

import io
import json
from functools import cache
from xml.etree import ElementTree as ET

import jsonschema
import msgspec
import numpy as np
import pytest
import svgelements
from ezdxf.document import Drawing
from ezdxf.entities.polyline import Polyline
from ezdxf.filemanagement import read
from shapely import hausdorff_distance
from shapely.geometry import LineString, MultiLineString, Polygon

from core.design.replay import replay
from core.errors import Refusal
from core.finishing.finish import Finished, finish
from core.outputs.export import exported
from core.outputs.piece_drawing import piece_drawing
from core.outputs.pieces_json import pieces_document
from core.outputs.table_layout import side_by_side
from core.shipped import asset
from core.steps.pivot import Pivot
from tests.samples import NAMES, design, replayed

PX_PER_MM = 96.0 / 25.4
"""CSS: an inch is 96 px."""


@cache
def content(name: str, suffix: str) -> bytes:
    """A sample design in a format."""
    return exported(replayed(name), suffix).content


@cache
def pieces(name: str) -> tuple[Finished, ...]:
    """The finished pieces of a sample design."""
    return finish(design(name), replayed(name).garment)


# --------------------------------------------------------------------------------------------------------------
# SVG


def svg_paths(name: str) -> dict[str, list[np.ndarray[tuple[int, int], np.dtype[np.float64]]]]:
    """Every path by its group's id, in mm from the page's upper left corner, as svgelements sees it."""
    read = svgelements.SVG.parse(io.BytesIO(content(name, ".svg")), ppi=96.0)
    found: dict[str, list[np.ndarray[tuple[int, int], np.dtype[np.float64]]]] = {}
    for group in read.select(lambda item: isinstance(item, svgelements.Group) and item.id is not None):
        found[group.id] = [
            np.array([(point.x, point.y) for point in path.as_points()]) / PX_PER_MM
            for path in group.select(lambda item: isinstance(item, svgelements.Path))
        ]
    return found


@pytest.mark.parametrize("name", NAMES)
def test_svg_shows_every_piece_at_true_size(name: str) -> None:
    """A group a piece; its stitching and cutting lines drawn within 0.02 mm of the core's, up to where it lies."""
    found = svg_paths(name)
    for piece in pieces(name):
        paths = found[f"piece-{piece.number}"]
        drawn = MultiLineString([LineString(path * (1.0, -1.0)) for path in paths])
        size = np.ptp(piece.cutting_line, axis=0)
        left, bottom, right, top = drawn.bounds
        assert (right - left, top - bottom) >= tuple(size - 0.01)
        outline = max(paths, key=lambda path: float(np.ptp(path, axis=0).prod()))
        shift = (outline * (1.0, -1.0)).min(axis=0) - _largest(piece).min(axis=0)
        for line in (piece.cutting_line, *(edge.points for edge in piece.piece.edges)):
            wanted = LineString(line + shift)
            here = drawn.intersection(wanted.buffer(0.02))
            assert hausdorff_distance(here, wanted, densify=0.2) <= 0.021


def _largest(piece: Finished) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """The stroke of a piece's drawing with the largest box."""
    strokes = piece_drawing(piece).strokes()
    return max((stroke.points for stroke in strokes), key=lambda path: float(np.ptp(path, axis=0).prod()))


def test_svg_says_its_size_in_millimetres_and_carries_a_square() -> None:
    """Width and height in mm equal the view box, and the test square measures 100 mm."""
    root = ET.fromstring(content("concert", ".svg"))  # noqa: S314 - our own
    box = root.attrib["viewBox"].split()
    assert [root.attrib["width"], root.attrib["height"]] == [f"{box[2]}mm", f"{box[3]}mm"]
    (square,) = svg_paths("concert")["test-square"]
    assert np.ptp(square, axis=0) == pytest.approx((100.0, 100.0), abs=0.001)


def test_svg_takes_any_name() -> None:
    """Markup, control characters and lone surrogates in a name leave a document that can be parsed."""
    made = msgspec.structs.replace(design("block"), name="<b>&\x00\x1b\ud800 漢")
    root = ET.fromstring(exported(replay(made), ".svg").content)  # noqa: S314 - our own
    title = root.find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert title.text == "<b>&¤ 漢"


# --------------------------------------------------------------------------------------------------------------
# DXF


@pytest.mark.parametrize("name", NAMES)
def test_dxf_is_clean_and_holds_a_block_a_piece(name: str) -> None:
    """ezdxf's audit finds nothing; units are mm; every piece is a block that is laid once, clear of the others."""
    document = _read(name)
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.header["$INSUNITS"] == 4  # DXF reference: 4 is mm
    laid = [insert.dxf.name for insert in document.modelspace().query("INSERT")]
    assert sorted(laid) == sorted({f"{piece.number}_{piece.name.replace(' ', '_')}" for piece in pieces(name)})
    loops = [
        Polygon(place.points(piece.cutting_line))
        for piece, place in zip(pieces(name), side_by_side(pieces(name)), strict=True)
    ]
    assert all(not a.intersects(b) for index, a in enumerate(loops) for b in loops[:index])


def _read(name: str) -> Drawing:
    return read(io.StringIO(content(name, ".dxf").decode("cp1252")))


@pytest.mark.parametrize("name", NAMES)
def test_dxf_lines_lie_on_the_layers_of_the_standard_at_true_size(name: str) -> None:
    """D6673 (trade.md A8): boundary on 1, notches on 4, grain on 7, sew lines on 14, words on 15; within 0.02 mm."""
    document = _read(name)
    for piece in pieces(name):
        block = document.blocks[f"{piece.number}_{piece.name.replace(' ', '_')}"]
        lines = [line for line in block if isinstance(line, Polyline)]
        (boundary,) = [line for line in lines if line.dxf.layer == "1"]
        assert boundary.is_closed
        corners = [p.xyz[:2] for p in boundary.points()]
        outline = LineString([*corners, corners[0]])
        assert hausdorff_distance(outline, LineString(piece.cutting_line), densify=0.2) <= 0.02
        sewn = [line for line in lines if line.dxf.layer in ("14", "6")]
        for line, edge in zip(sewn, piece.piece.edges, strict=True):
            drawn = LineString([p.xyz[:2] for p in line.points()])
            assert hausdorff_distance(drawn, LineString(edge.points), densify=0.2) <= 0.02
        notches = [point for point in block.query("POINT") if point.dxf.layer == "4"]
        assert len(notches) == sum(2 if notch.is_double else 1 for notch in piece.notches)
        assert all(point.dxf.location.z > 0.0 for point in notches)
        (grain,) = [line for line in block.query("LINE") if line.dxf.layer == "7"]
        ticks = [line for line in block.query("LINE") if line.dxf.layer == "8"]
        assert len(ticks) == len(notches)
        assert (grain.dxf.end - grain.dxf.start).magnitude == pytest.approx(
            float(np.hypot(*np.subtract(*piece.grain))), abs=0.02
        )
        words = [text.dxf.text for text in block.query("TEXT") if text.dxf.layer == "1"]
        assert f"Piece Name: {piece.number} {piece.name}" in words
        vertices = [point for point in block.query("POINT") if point.dxf.layer in ("2", "3")]
        assert len(vertices) == len(piece.cutting_line) - 1


# --------------------------------------------------------------------------------------------------------------
# both


@pytest.mark.parametrize("suffix", [".svg", ".dxf"])
def test_equal_designs_give_equal_files(suffix: str) -> None:
    """Byte for byte: neither clock nor random names."""
    assert exported(replayed("concert"), suffix).content == content("concert", suffix)


def test_other_formats_and_refused_steps_are_refused() -> None:
    """With the formats there are; with the step's own sentence."""
    with pytest.raises(Refusal, match=r"ends in \.svg or \.dxf"):
        exported(replayed("block"), ".ai")
    bad = replay(design("block").with_step(Pivot("pivot-1", "front", "front.no_dart", into="front.waist_dart")))
    with pytest.raises(Refusal, match="no open no dart"):
        exported(bad, ".dxf")


def test_some_pieces_without_allowances() -> None:
    """Only those named are written, cut along their stitching lines."""
    made = exported(replayed("concert"), ".svg", pieces=("2",), has_allowances=False)
    assert made.pieces == 1
    assert len(made.content) < len(content("concert", ".svg")) / 3


# --------------------------------------------------------------------------------------------------------------
# the pieces' JSON


@pytest.mark.parametrize("name", NAMES)
def test_the_pieces_keep_to_their_schema(name: str) -> None:
    """The shipped JSON Schema (draft 2020-12) takes what `pieces --json` writes, and nothing unknown beside it."""
    schema = json.loads(asset("schema", "pieces.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    document = pieces_document(design(name), replayed(name))
    jsonschema.validate(document, schema)
    document["pieces"][0]["unknown"] = 1
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(document, schema)
