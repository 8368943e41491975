"""The form's figures: how many bodies are solved, how exactly, and how fast a drag and a change of measurements are.

`python -m tests.benchmarks.form`; the bodies take some minutes.
"""

from __future__ import annotations

import time
from collections import Counter

import numpy as np

from core.body.body import Body, complete
from core.body.size_table import starting_body
from core.errors import Refusal
from core.form.picture import coloured, tints, view_of
from core.form.shown import Fitter, stand_for
from core.form.solving import READ, readings, solved
from tests.samples import replayed
from tests.samples_bodies import bodies

SIZE = (520, 720)
INCH = 25.4


def grid() -> tuple[Body, ...]:
    """Ninety sizes: bust 32 to 42 in (the size table ends there), less under-bust 3 to 7, high bust 1 to 3."""
    found = []
    for bust in (32, 34, 36, 38, 40, 42):
        base = starting_body(bust * INCH)
        for under in (3, 4, 5, 6, 7):
            for high in (1, 2, 3):
                sizes = {"under_bust": (bust - under) * INCH, "high_bust": (bust - high) * INCH}
                found.append(Body("Grid", "in", dict(base.measurements) | sizes))
    return tuple(found)


def _tried(name: str, many: tuple[Body, ...]) -> None:
    worst, refused, took = 0.0, Counter[str](), []
    for body in many:
        begun = time.process_time()
        try:
            measured = complete(body)
            form = solved(measured)
        except Refusal as refusal:
            refused[refusal.sentence.partition(" with her")[0]] += 1
            continue
        took.append(time.process_time() - begun)
        wanted = np.array([measured.values[id_] for id_ in READ])
        worst = max(worst, float(np.abs(readings(form.sections) - wanted).max()))
    print(
        f"{name}: {len(took)} of {len(many)} solved, worst reading {worst:.4f} mm off, median {np.median(took):.2f} s"
    )
    for sentence, count in refused.most_common():
        print(f"  refused {count}: {sentence}")


def _drag() -> None:
    done = replayed("concert")
    begun = time.process_time()
    stand = stand_for(complete(done.design.body), done.design.body.shape)
    print(f"a change of measurements, processor time: {time.process_time() - begun:.2f} s")
    fitter, garments = Fitter(stand), (done.block, *(stage.garment for stage in done.stages))
    view = view_of(stand.skin, 0.0, SIZE)
    pictures = tints(view, ("#d3b79c", "#8a7691", "#f4f1ec", "#8d8172"), ("#d9d0c0", "#3a352d"))
    took, bare = [], []
    for _ in range(100):
        begun = time.process_time()
        laid = fitter.laid(garments, done.design.ease, "in")
        coloured(view, laid.cloths, pictures)
        took.append(1000.0 * (time.process_time() - begun))
        begun = time.process_time()
        pictures[0].copy()
        bare.append(1000.0 * (time.process_time() - begun))
    middle, high = np.percentile(took, [50, 95])
    print(f"numbers and picture at {SIZE}, processor time: median {middle:.1f} ms, 95 % under {high:.1f} ms; ", end="")
    print(f"{middle / np.median(bare):.0f} x a bare copy of the picture")


if __name__ == "__main__":
    _drag()
    _tried("grid of sizes", grid())
    _tried("every tenth woman of the survey", bodies()[::10])
