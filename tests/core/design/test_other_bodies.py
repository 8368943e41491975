"""The demos' styles redrafted on women of the survey."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from tests.demo_designs import concert, ice, stage
from tests.redrafts import Laws, laws_of, redrafted
from tests.samples_bodies import SURVEY, bodies

EVERY = {"concert": 10, "stage": 30, "ice": 20}
"""Every so manieth woman; all the tables' women where the survey is absent. `tests.benchmarks.bodies` takes each."""


def followed(name: str) -> tuple[list[Laws], list[str]]:
    """What the redrafts of a demo leave over, and the refusals."""
    design = {"concert": concert, "stage": stage, "ice": ice}[name]()
    found, refused = [], []
    for body in bodies()[:: EVERY[name] if SURVEY.exists() else 1]:
        try:
            found.append(laws_of(redrafted(design, body)))
        except Refusal as refusal:
            refused.append(f"{body.name}: {refusal.sentence}")
    return found, refused


@pytest.mark.parametrize("name", EVERY)
def test_a_style_follows_to_other_bodies(name: str) -> None:
    """At most 2 in 100 are refused and none crash; panels are whole, dart legs equal, seams exact (design.md 6)."""
    found, refused = followed(name)
    assert len(refused) <= max(1, 2 * (len(found) + len(refused)) // 100), refused
    assert not [laws.spoilt for laws in found if laws.spoilt]
    assert max(laws.legs for laws in found) <= 0.01
    assert max(laws.seam for laws in found) <= 0.2
