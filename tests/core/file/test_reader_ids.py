"""Steps that are switched off are known by their id."""

from __future__ import annotations

import msgspec

from core.file.reader import design_from_bytes
from core.file.writer import design_to_bytes
from tests.core.file.sample_designs import panel_design


def test_a_step_that_is_switched_off_stays_so() -> None:
    """Its id is one that the design has."""
    design = msgspec.structs.replace(panel_design(), off=("trim-1",))
    assert design_from_bytes(design_to_bytes(design)).off == ("trim-1",)
