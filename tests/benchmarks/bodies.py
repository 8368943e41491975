"""Every woman of the survey: her block by each method, what it leaves over, and each demo's style redrafted on her.

`python -m tests.benchmarks.bodies`; it takes some minutes, so `python -m tests.benchmarks` leaves it out. Where the
survey's file is absent its means and extremes are taken, and the first row says so.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import atan2, degrees

import msgspec
import numpy as np

from core.blocks.draft import METHODS, Draft, drafted
from core.blocks.ease import Ease
from core.body.body import Body, Measured, complete
from core.body.size_table import BONE
from core.checks.report import report
from core.design.design import Design
from core.errors import Refusal
from core.geometry.polyline import Points
from core.pieces.records import Edge, Garment, Piece
from tests.demo_designs import DEMOS
from tests.redrafts import Laws, laws_of, redrafted
from tests.samples_bodies import SURVEY, bodies

STRANGEST = 10

LEAST_RANGE, MOST_RANGES = 10.0, 2.0
"""A number counts for strangeness in ranges of its own but at least so many degrees or mm, and for so many at most: a
hair's breadth counts for nothing and no number decides alone."""


@dataclass(frozen=True, slots=True)
class Drafted:
    """A woman's block in numbers: dart angles (degrees), what is left over (mm), what a cutter would look at."""

    name: str
    darts: Mapping[str, float]
    residuals: Mapping[str, float]
    shape: Mapping[str, float]
    noted: int


def figures() -> Iterator[str]:
    """Rows to print."""
    yield f"{len(bodies())} bodies" + ("" if SURVEY.exists() else " (the survey's file is absent: means and extremes)")
    for method in METHODS:
        yield from _method(method)
    yield from _bone()
    for name, design in DEMOS.items():
        yield from _redrafts(name.removesuffix(".sheer"), design())


def _method(method: str) -> Iterator[str]:
    """A method's refusals, spreads and strangest blocks."""
    found, refused = _blocks(method)
    yield from _refusals(f"\nmethod {method}: blocks refused", refused)
    yield f"blocks with notes: {sum(1 for block in found if block.noted)}"
    yield f"{'':44}{'least':>9}{'5 %':>9}{'25 %':>9}{'median':>9}{'75 %':>9}{'95 %':>9}{'most':>9}"
    for kind in ("darts", "residuals", "shape"):
        for name in getattr(found[0], kind):
            yield _spread(name, [getattr(block, kind)[name] for block in found])
    yield "strangest blocks, by how far their numbers lie from the middle in ranges from 5 to 95 %:"
    yield from strangest(found)


def _blocks(method: str) -> tuple[list[Drafted], list[str]]:
    found, refused = [], []
    for body in bodies():
        try:
            measured = complete(body)
            found.append(_in_numbers(body.name, measured, drafted(measured, Ease(), method)))
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
        "shoulder seam less its ease, mm": _shoulder(garment) - ease.shoulder,
        "balance: side neck front less back, mm": _over(garment, "front") - _over(garment, "back"),
        "underarm over its natural height, mm": garment.piece("front").landmarks["underarm"][1] - natural,
    }
    return Drafted(name, darts, residuals, _shape(garment), len(draft.notes))


def _shoulder(garment: Garment) -> float:
    return garment.origins["back.shoulder"].length - garment.origins["front.shoulder"].length


def _over(garment: Garment, piece: str) -> float:
    return garment.piece(piece).landmarks["side_neck"][1]


def _shape(garment: Garment) -> dict[str, float]:
    """Slopes, neckline, side seam, armholes and the place of the bust point."""
    front, back = garment.piece("front"), garment.piece("back")
    marks = front.landmarks
    (neck_x, neck_y), (arm_x, arm_y), (waist_x, waist_y) = marks["side_neck"], marks["underarm"], marks["waist_side"]
    return {
        "front shoulder's slope, degrees": _slope(front.edges, "front.shoulder", -1),
        "back shoulder's slope, degrees": _slope(back.edges, "back.shoulder", 0),
        "front neck's depth, mm": neck_y - marks["neck_pit"][1],
        "front neck's width, mm": neck_x,
        "side seam's lean, degrees": degrees(atan2(arm_x - waist_x, arm_y - waist_y)),
        "front armhole's width, mm": _armhole_width(front),
        "back armhole's width, mm": _armhole_width(back),
        "front armhole turns back, degrees": _turns_back(front),
        "back armhole turns back, degrees": _turns_back(back),
        "bust point under the underarm, mm": arm_y - marks["bust_point"][1],
        "bust point over the waist, mm": marks["bust_point"][1],
    }


def _slope(edges: tuple[Edge, ...], origin: str, which: int) -> float:
    """Of the part of a shoulder beside the neck."""
    points = [edge.points for edge in edges if edge.origin.edge == origin][which]
    across, down = np.abs(points[-1] - points[0])
    return degrees(atan2(down, across))


def _armholes(piece: Piece) -> list[Points]:
    return [edge.points for edge in piece.edges if edge.origin.edge == f"{piece.name}.armhole"]


def _armhole_width(piece: Piece) -> float:
    """From the underarm in to where the armhole comes nearest to the centre."""
    return abs(piece.landmarks["underarm"][0]) - min(float(np.abs(part[:, 0]).min()) for part in _armholes(piece))


def _turns_back(piece: Piece) -> float:
    """How far the armhole turns the other way: over some 20 degrees the eye sees an S."""
    found = 0.0
    for part in _armholes(piece):
        steps = np.diff(part, axis=0)
        turns = np.degrees(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
        found += float(min(turns[turns > 0.0].sum(), -turns[turns < 0.0].sum()))
    return found


_EDGES = ("waist", "armhole", "neck")


def _spread(name: str, values: list[float]) -> str:
    row = np.percentile(values, (0, 5, 25, 50, 75, 95, 100)) + 0.0
    return f"{name:44}" + "".join(f"{value:9.2f}" for value in row)


def strangest(found: list[Drafted]) -> Iterator[str]:
    """The blocks whose numbers lie farthest from the middle, with the number that is oddest."""
    names = [*found[0].darts, *found[0].residuals, *found[0].shape]
    table = np.array([[*block.darts.values(), *block.residuals.values(), *block.shape.values()] for block in found])
    first, middle, last = np.percentile(table, (5, 50, 95), axis=0)
    off = np.minimum(np.abs(table - middle) / np.maximum(last - first, LEAST_RANGE), MOST_RANGES)
    for index in np.argsort(-np.sqrt((off**2).sum(axis=1)))[:STRANGEST]:
        oddest = int(off[index].argmax())
        yield f"  {found[index].name}: {names[oddest]} {table[index, oddest]:.2f}, middle {middle[oddest]:.2f}"


def _bone() -> Iterator[str]:
    """How many get less shoulder slope than measured: as the survey has them, and with a dressmaker's shoulder."""
    yield "\nblocks by the tape method whose shoulders slope less than measured, for the armhole girth:"
    for less in (0.0, BONE):
        lowered = [_lowered(body, less) for body in bodies()]
        drawn = [by for by in lowered if by is not None]
        given = [by for by in drawn if by > 0.0]
        share = 100 * len(given) / len(drawn)
        yield f"  shoulder {less:.0f} mm shorter: {len(given)} ({share:.1f} %), median {np.median(given):.1f} degrees"


def _lowered(body: Body, less: float) -> float | None:
    """Degrees of slope that are given up, or None for a refusal."""
    taken = dict(body.measurements)
    taken["shoulder"] -= less
    try:
        notes = drafted(complete(msgspec.structs.replace(body, measurements=taken)), Ease()).notes
    except Refusal:
        return None
    found = [re.search(r"slope ([\d.]+) degrees less", note) for note in notes]
    return max((float(match[1]) for match in found if match), default=0.0)


def _redrafts(name: str, design: Design) -> Iterator[str]:
    """A demo's style on every body: what could not follow, what its checks say, and the laws of its panels."""
    refused: list[str] = []
    verdicts: Counter[str] = Counter()
    followed: list[Laws] = []
    for body in bodies():
        try:
            done = redrafted(design, body)
        except Refusal as refusal:
            refused.append(refusal.sentence)
        else:
            followed.append(laws_of(done))
            verdicts[report(done).worst] += 1
    yield from _refusals(f"\nredrafts of {name} refused", refused)
    yield f"verdicts of the redrafts: {', '.join(f'{word} {count}' for word, count in verdicts.most_common())}"
    yield f"panels that cross themselves or are empty: {sum(len(found.spoilt) for found in followed)}"
    yield _spread("worst seam's difference, mm", [found.seam for found in followed])
    yield _spread("worst dart's legs, difference in mm", [found.legs for found in followed])


def _refusals(heading: str, sentences: list[str]) -> Iterator[str]:
    """How many, and each reason with its numbers left out."""
    yield f"{heading}: {len(sentences)} of {len(bodies())} ({100 * len(sentences) / len(bodies()):.1f} %)"
    reasons = Counter(re.sub(r"-?\d+(?:\.\d+)?", "#", sentence) for sentence in sentences)
    for reason, count in reasons.most_common():
        yield f"  {count} x {reason}"


if __name__ == "__main__":
    for row in figures():
        print(row)
