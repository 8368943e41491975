"""The seam table: what each seam joins, how long its sides are, and the verdict."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from core.checks.verdict import SIGNS, Verdict, verdict
from core.pieces.names import spoken_in_full, spoken_run
from core.pieces.records import Garment
from core.pieces.seams import Link, Match, matches

NO_SIDE = "nothing"
"""What a chain is called when no edge holds it any more."""


class SeamRow(msgspec.Struct, frozen=True):
    """One seam. Lengths, ease and difference in mm; `difference` = length_a - length_b - ease."""

    name: str
    pieces: tuple[str, ...]
    sides: tuple[str, str]
    """Each side by its pieces alone ("centre front and side front")."""
    edges: tuple[str, str]
    """Each side in words: the pieces with their edges ("front (side)")."""
    length_a: float
    length_b: float
    ease: float
    difference: float
    verdict: Verdict

    @property
    def sign(self) -> str:
        """The verdict's sign."""
        return SIGNS[self.verdict]

    @property
    def words(self) -> str:
        """The seam's name as it is spoken: "front.sheer_line" is "front sheer line"."""
        return spoken_in_full(self.name)


def seam_rows(garment: Garment) -> tuple[SeamRow, ...]:
    """A row for every seam, in the garment's order."""
    return tuple(seam_row(found) for found in matches(garment))


def seam_row(found: Match) -> SeamRow:
    """The row of one seam. A seam that has lost a whole side is wrong, however short the other is."""
    whole = bool(found.a) and bool(found.b)
    return SeamRow(
        found.seam.name,
        found.pieces,
        (_side_pieces(found.a), _side_pieces(found.b)),
        (_side_words(found.a), _side_words(found.b)),
        found.length_a,
        found.length_b,
        found.seam.ease,
        found.difference,
        verdict(found.difference) if whole else "wrong",
    )


def _side_words(chain: Sequence[Link]) -> str:
    """For example: "front yoke (shoulder)" or "centre front (princess, waist dart)"; runs of an edge are said once."""
    edges: dict[str, dict[str, None]] = {}
    for link in chain:
        edges.setdefault(link.piece.name, {})[spoken_run(link.edge.name)] = None
    return " and ".join(f"{piece} ({', '.join(names)})" for piece, names in edges.items()) or NO_SIDE


def _side_pieces(chain: Sequence[Link]) -> str:
    """For example: "centre front and side front"."""
    return " and ".join(dict.fromkeys(link.piece.name for link in chain)) or NO_SIDE
