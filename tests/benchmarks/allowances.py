"""Cutting lines of a thousand random outlines with random allowances, held to the law of the cutting line.

Run by hand: `python -m tests.benchmarks.allowances`. It ends with an error where one crosses itself or lacks allowance.
"""

from __future__ import annotations

from hypothesis import HealthCheck, Phase, given, settings

from core.geometry.margins import Margin
from core.geometry.offset import offset_loop
from tests.core.geometry.outlines import faults, is_outline, outlines

CASES = 1000


def main() -> None:
    """Draw outlines until a thousand are pieces, and print how many broke the law."""
    tried: list[list[str]] = []

    @settings(
        max_examples=2 * CASES,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.generate],
    )
    @given(outlines())
    def draw(margins: list[Margin]) -> None:
        if len(tried) < CASES and is_outline(margins):
            tried.append(faults(margins, offset_loop(margins)))

    draw()
    broken = [words for words in tried if words]
    print(f"{len(tried)} outlines, {len(broken)} against the law")
    for words in broken:
        print("  " + "; ".join(words))
    if broken or len(tried) < CASES:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
