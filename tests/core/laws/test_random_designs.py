"""Any body, any lines, any order of steps: pages or one sentence; never a crash, never a piece that crosses itself."""

from __future__ import annotations

import os

from hypothesis import Phase, given, settings

from core.design.design import Design
from tests.core.laws.random_designs import Ends, designs

DESIGNS, SHARE = (300, 0.6) if os.environ.get("CI") else (8, 0.25)
"""How many are sent in CI, where the same are drawn each time, and the share that is to reach pages with five steps or
more, without which it would prove little. The benchmark sends 5,000."""


def test_random_designs_are_printed_or_refused() -> None:
    """They go the whole way, most of them to pages."""
    ends = Ends()

    @settings(max_examples=DESIGNS, phases=[Phase.generate])
    @given(designs())
    def send(design: Design) -> None:
        ends.take(design)

    send()
    assert ends.with_enough >= SHARE * DESIGNS, ends.refusals
