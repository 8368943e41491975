"""How each act of making is said, and the caution that goes with it.

Manners of sewing are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from core.finishing.finish import Finished
from core.pieces.names import spoken
from core.pieces.records import Dart
from core.pieces.seams import Link, Match
from core.units import Unit, show_length

BLADE: Final = "Close the rotary cutter after every cut, and cut away from yourself."
IRON: Final = "Net melts: low heat, a press cloth, and the iron maker's own advice first."
FLAME: Final = "Net burns: keep it from candles and heaters."
BONING: Final = "Wear eye protection when sewing over boning."
PINS: Final = "Count the pins out and back in before anyone puts it on."
GLUE: Final = "Foam that is glued: test the glue on a scrap, air the room, and never let it touch skin."

RAW: Final = 0.5
"""An edge with less allowance (mm) is cut on its line."""

EASED: Final = 0.5
"""Ease of less (mm) is not said."""


def numbered(numbers: Sequence[int]) -> str:
    """For example: "2, 3 and 5"."""
    words = [str(number) for number in sorted(numbers)]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def preparing_words(piece: Finished) -> Iterator[tuple[str, str]]:
    """What is done to one piece before it is sewn to another, each with its caution."""
    said = f"{piece.number} {piece.name}"
    if piece.fabric.role == "sheer" and piece.layers > 1 and not piece.doubled:
        yield f"Lay the {piece.layers} plies of {said} edge on edge, stretch the same way, and tack them as one.", ""
    if piece.fabric.role == "sheer":
        yield f"Stay-stitch {said} along the edges that will be handled, just outside the line.", FLAME


def dart_words(piece: Finished, dart: Dart) -> str:
    """How a dart that was left open is sewn."""
    said = f"{piece.number} {piece.name}"
    return f"Sew the {spoken(dart.name)} of {said} from its base to nothing at its point, and press it to its side."


# --------------------------------------------------------------------------------------------------------------
# seams


def seam_words(found: Match, pieces: Mapping[str, Finished], unit: Unit, *, is_sound: bool) -> tuple[str, str]:
    """How a seam is sewn, and its caution."""
    sides = [_side(chain, pieces) for chain in (found.a, found.b)]
    edges = [_edge_said(chain, pieces) for chain in (found.a, found.b)]
    is_sheer = any(pieces[name].fabric.role == "sheer" for name in found.pieces)
    parts = [f"{_manner(_seam_said(found), sides, edges)}{_ease(found, sides, unit)}."]
    if not any(edges):
        parts.append(_pressing(found, pieces, is_sheer=is_sheer))
    if not is_sound:
        off = show_length(abs(found.difference), unit)
        parts.append(f"Its sides differ by {off}: match them in the pattern first.")
    return " ".join(part for part in parts if part), IRON if is_sheer else ""


def _seam_said(found: Match) -> str:
    """The seam as a sentence names it: "princess seam", "sheer line", "cup seam"."""
    block, _, name = found.seam.name.rpartition(".")
    said = spoken(block) if name == "seam" else spoken(name)
    return said if said.endswith(("line", "seam")) else f"{said} seam"


def _side(chain: Sequence[Link], pieces: Mapping[str, Finished]) -> str:
    names = dict.fromkeys(link.piece.name for link in chain)
    return " and ".join(f"{pieces[name].number} {name}" for name in names)


def _edge_said(chain: Sequence[Link], pieces: Mapping[str, Finished]) -> str:
    """How a side's edge is called that ends on its line: "turned" once it is sewn double and turned, "raw", else ""."""
    if chain and all(pieces[link.piece.name].doubled for link in chain):
        return "turned"
    widest = max((pieces[link.piece.name].allowances[link.edge.name] for link in chain), default=0.0)
    return "raw" if widest < RAW else ""


def _manner(where: str, sides: Sequence[str], edges: Sequence[str]) -> str:
    """Right sides together; an edge that ends on its line lapped onto its mate's; two such edge to edge."""
    if all(edges):
        how = "by a narrow zigzag or by hand, notches meeting"
        return f"Join the {where} edge to edge: {sides[0]} to {sides[1]}, {how}"
    if any(edges):
        over, under, said = (*sides, edges[0]) if edges[0] else (*reversed(sides), edges[1])
        return f"At the {where} lap the {said} edge of {over} over {under} onto its line, notches meeting, and stitch"
    return f"Sew the {where}: {sides[0]} to {sides[1]}, right sides together, notches meeting"


def _ease(found: Match, sides: Sequence[str], unit: Unit) -> str:
    ease = found.seam.ease
    if abs(ease) < EASED:
        return ""
    longer = sides[0] if ease > 0.0 else sides[1]
    return f", easing in {show_length(abs(ease), unit)} of {longer}"


def _pressing(found: Match, pieces: Mapping[str, Finished], *, is_sheer: bool) -> str:
    if is_sheer:
        return "Trim to 3 mm, finger-press away from the net, then press."
    worn = [pieces[name].piece for name in found.pieces]
    is_shaped = len({piece.block for piece in worn}) == 1 and any(
        "bust_point" in piece.landmarks or piece.block == "cup" for piece in worn
    )
    return "Clip the hollow side, and press it open over a ham." if is_shaped else "Press it open."


# --------------------------------------------------------------------------------------------------------------
# edges and what is last


def cloth_edge_words(names: Sequence[str]) -> str:
    """What is done to necks and armholes about which nothing else is said."""
    return f"Face or bind the edge at the {', '.join(names)}."


def net_edge_words(names: Sequence[str]) -> str:
    """What is done to those of net."""
    return f"Bind or roll the edge at the {', '.join(names)}, where net touches skin."


def lined_edge_words(names: Sequence[str]) -> str:
    """What is done to necks and armholes that have a lining, before it is felled to them."""
    return (
        f"Turn in the edge at the {', '.join(names)} on its line and catch it down by hand: the lining is felled to it."
    )


def lining_words(numbers: Sequence[int]) -> str:
    """How the lining goes in."""
    return f"Lay the lining of {numbered(numbers)} inside, wrong sides together, and fell it to the edges by hand."


def cup_words(numbers: Sequence[int], *, has_foam: bool) -> str:
    """How the cup goes in."""
    return (
        f"Lay the cup of {numbered(numbers)} behind the opening, its match line on the sheer line, and hand-stitch it "
        f"to the allowances only, so that no stitch shows. {GLUE if has_foam else ''}"
    ).strip()
