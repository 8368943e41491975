"""Every woman of the survey: her block, what it leaves over, and the demo's style redrafted on it.

`python -m tests.benchmarks.bodies`; it takes some two minutes, so `python -m tests.benchmarks` leaves it out. Where the
survey's file is absent its means and extremes are taken, and the first row says so.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import degrees

import msgspec
import numpy as np

from core.blocks.draft import Draft, drafted
from core.blocks.ease import Ease
from core.body.body import Measured, complete
from core.checks.report import report
from core.design.design import Design
from core.design.replay import replay
from core.errors import Refusal
from tests.demo_designs import concert
from tests.samples_bodies import SURVEY, bodies

STRANGEST = 10


@dataclass(frozen=True, slots=True)
class Drafted:
    """A woman's block in numbers: dart angles (degrees) and what is left over (mm)."""

    name: str
    darts: Mapping[str, float]
    residuals: Mapping[str, float]
    noted: int


def figures() -> Iterator[str]:
    """Rows to print."""
    yield f"{len(bodies())} bodies" + ("" if SURVEY.exists() else " (the survey's file is absent: means and extremes)")
    found, refused = _blocks()
    yield from _refusals("blocks refused", refused)
    yield f"blocks with notes: {sum(1 for block in found if block.noted)}"
    for kind in ("darts", "residuals"):
        for name in getattr(found[0], kind):
            yield _spread(name, [getattr(block, kind)[name] for block in found])
    yield "strangest blocks, by how far their numbers lie from the middle in ranges from 5 to 95 %:"
    yield from strangest(found)
    yield from _redrafts()


def _blocks() -> tuple[list[Drafted], list[str]]:
    found, refused = [], []
    for body in bodies():
        try:
            measured = complete(body)
            found.append(_in_numbers(body.name, measured, drafted(measured, Ease())))
        except Refusal as refusal:
            refused.append(refusal.sentence)
    return found, refused


def _in_numbers(name: str, measured: Measured, draft: Draft) -> Drafted:
    body, ease, garment = measured.values, Ease(), draft.garment
    pieces = garment.pieces.values()
    darts = {f"{dart.name}, degrees": degrees(dart.angle) for piece in pieces for dart in piece.darts}
    whole = {edge: 2 * sum(garment.origins[f"{piece.name}.{edge}"].length for piece in pieces) for edge in _EDGES}
    bust = 2 * sum(piece.line(f"{piece.name}.bust_line").length for piece in pieces)
    front, back = garment.origins["front.side"].length, garment.origins["back.side"].length
    natural = body["back_waist_length"] - body["scye_depth"] - ease.armhole_depth
    residuals = {
        "bust less body and ease, mm": bust - body["bust"] - ease.bust,
        "waist less body and ease, mm": whole["waist"] - body["waist"] - ease.waist,
        "front less back side seam, mm": front - back,
        "armhole less armhole girth, mm": whole["armhole"] / 2 - body["scye_girth"],
        "neckline less neck base, mm": whole["neck"] - body["neck_base"],
        "underarm over its natural height, mm": garment.piece("front").landmarks["underarm"][1] - natural,
    }
    return Drafted(name, darts, residuals, len(draft.notes))


_EDGES = ("waist", "armhole", "neck")


def _spread(name: str, values: list[float]) -> str:
    low, first, middle, last, high = np.percentile(values, (0, 5, 50, 95, 100)) + 0.0
    return f"{name}: median {middle:.2f}, 5 to 95 % {first:.2f} to {last:.2f}, all {low:.2f} to {high:.2f}"


def strangest(found: list[Drafted]) -> Iterator[str]:
    """The blocks whose numbers lie farthest from the middle, with the number that is oddest."""
    names = [*found[0].darts, *found[0].residuals]
    table = np.array([[*block.darts.values(), *block.residuals.values()] for block in found])
    first, middle, last = np.percentile(table, (5, 50, 95), axis=0)
    off = np.abs(table - middle) / np.maximum(last - first, 1.0)
    for index in np.argsort(-np.sqrt((off**2).sum(axis=1)))[:STRANGEST]:
        oddest = int(off[index].argmax())
        yield f"  {found[index].name}: {names[oddest]} {table[index, oddest]:.2f}, middle {middle[oddest]:.2f}"


def _redrafts() -> Iterator[str]:
    """The demo's style on every body: what could not follow, and what its checks say."""
    design = concert()
    refused: list[str] = []
    verdicts: Counter[str] = Counter()
    for body in bodies():
        try:
            verdicts[_verdict(msgspec.structs.replace(design, body=body))] += 1
        except Refusal as refusal:
            refused.append(refusal.sentence)
    yield from _refusals("redrafts of the demo refused", refused)
    yield f"verdicts of the redrafts: {', '.join(f'{word} {count}' for word, count in verdicts.most_common())}"


def _verdict(design: Design) -> str:
    done = replay(design)
    if done.refused:
        raise Refusal(f"{done.refused.step_id}: {done.refused.sentence}")
    return report(done).worst


def _refusals(heading: str, sentences: list[str]) -> Iterator[str]:
    """How many, and each reason with its numbers left out."""
    yield f"{heading}: {len(sentences)} of {len(bodies())} ({100 * len(sentences) / len(bodies()):.1f} %)"
    reasons = Counter(re.sub(r"-?\d+(?:\.\d+)?", "#", sentence) for sentence in sentences)
    for reason, count in reasons.most_common():
        yield f"  {count} x {reason}"


if __name__ == "__main__":
    for row in figures():
        print(row)
