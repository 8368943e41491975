"""The back on the form: where its landmarks come, how much of her it covers, and what is said of it."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace
from shapely import Polygon

from core.form.back import LINE_ON_PANELS, NOT_SHOWN, SHOWN, LaidBack, _laying, back_on, whole_back
from core.form.shown import Stand, cell_areas
from core.geometry.polyline import as_points
from core.pieces.records import Garment
from tests.samples import replayed
from tests.samples_stands import demo_stand


def _stand() -> Stand:
    return demo_stand("stage")


def _garments() -> tuple[Garment, ...]:
    done = replayed("stage")
    return (done.block, *(stage.garment for stage in done.stages))


@cache
def _laid() -> LaidBack:
    return back_on(_stand().body.form, _stand().skin, _garments())


def test_landmarks_of_the_back_come_to_those_of_the_form() -> None:
    """Nape and waist lie on the centre back, side neck and underarm at the side, each at its height."""
    form, block = _stand().body.form, replayed("stage").block.blocks["back"]
    names = ("waist_centre", "nape", "side_neck", "underarm", "waist_side")
    t, z = _laying(form, _stand().skin, block)(as_points([block.landmarks[name] for name in names]))
    assert t == pytest.approx([np.pi, np.pi, np.pi / 2, np.pi / 2, np.pi / 2], abs=0.02)
    figure = form.figure
    heights = [0.0, form.nape_height, figure.unknowns.side_neck_height, figure.high_bust_height, 0.0]
    assert z == pytest.approx(heights, abs=1.0)


def test_the_back_covers_as_much_of_her_as_its_cloth() -> None:
    """The area under it is the flat piece's, less what the waist dart takes out and its ease: within a tenth."""
    piece = whole_back(_garments())
    laid = _laid()
    assert piece is not None
    assert laid.main is not None
    darts = sum(dart.width * dart.leg_length / 2.0 for dart in piece.darts)
    cloth = Polygon(piece.loop).area - darts
    under = cell_areas(_stand().skin)[laid.main][:].sum()
    assert under == pytest.approx(cloth, rel=0.10)


def test_the_sheer_of_the_back_lies_above_its_line() -> None:
    """On the demo that is sheer at the back: net above the line at the centre back, main cloth below it."""
    laid = _laid()
    assert laid.sheer is not None
    assert laid.main is not None
    (line,) = laid.lines
    at_centre = line[np.argmin(np.abs(line[:, 0]))]
    surface = _stand().skin
    rows = laid.sheer[-1].nonzero()[0]
    low = surface.low + rows.min() * (surface.high - surface.low) / laid.sheer.shape[1]
    assert low == pytest.approx(at_centre[2], abs=2.0)
    assert (laid.main | ~laid.sheer).all()


def test_what_the_back_is_worth_is_said() -> None:
    """Shown, not measured; a block without a nape is left bare; a line drawn on cut panels is missed by name."""
    assert _laid().said == (SHOWN,)
    block = replayed("stage").block
    without = {name: place for name, place in block.blocks["back"].landmarks.items() if name != "nape"}
    bald = replace(block, blocks=dict(block.blocks) | {"back": replace(block.blocks["back"], landmarks=without)})
    left = back_on(_stand().body.form, _stand().skin, (bald,))
    assert (left.main, left.said) == (None, (NOT_SHOWN,))
    late = (_garments()[0], _garments()[-1])
    assert back_on(_stand().body.form, _stand().skin, late).said == (SHOWN, LINE_ON_PANELS)
