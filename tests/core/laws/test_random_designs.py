"""Any body, any lines, any order of steps: pages or one sentence; never a crash, never a piece that crosses itself."""

from __future__ import annotations

from hypothesis import Phase, given, settings

from core.design.design import Design
from tests.core.laws.random_designs import Ends, designs


def test_random_designs_are_printed_or_refused() -> None:
    """Eight of them go the whole way; the benchmark sends 5,000. Not all may be refused: that would prove nothing."""
    ends = Ends()

    @settings(max_examples=8, phases=[Phase.generate])
    @given(designs())
    def send(design: Design) -> None:
        ends.take(design)

    send()
    assert ends.printed >= 2
