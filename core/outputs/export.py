"""Pieces for other programs: which formats there are, and what is written in each."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final

import msgspec

from core.design.replay import Replay
from core.errors import Refusal
from core.finishing.finish import Finished, finish
from core.outputs.choices import Choices, chosen, without_allowances
from core.outputs.dxf import pieces_dxf
from core.outputs.svg import pieces_svg

Writer = Callable[[str, Sequence[Finished]], bytes]


class Exported(msgspec.Struct, frozen=True):
    """What is to be written, and how many pieces it holds."""

    content: bytes
    pieces: int


def _svg(title: str, pieces: Sequence[Finished]) -> bytes:
    return pieces_svg(title, pieces).encode()


def _dxf(_title: str, pieces: Sequence[Finished]) -> bytes:
    return pieces_dxf(pieces)


FORMATS: Final[Mapping[str, Writer]] = {".svg": _svg, ".dxf": _dxf}


def exported(replay: Replay, suffix: str, *, pieces: Sequence[str] = (), has_allowances: bool = True) -> Exported:
    """The pieces in the format of a suffix. Refusal for another suffix, for a step refused, and for no such piece."""
    if suffix.casefold() not in FORMATS:
        raise Refusal(f"Pieces are exported as SVG or DXF: give a name that ends in {' or '.join(FORMATS)}.")
    replay.checked()
    design = replay.design if has_allowances else without_allowances(replay.design)
    kept = chosen(finish(design, replay.garment), Choices(pieces=tuple(pieces)))
    return Exported(FORMATS[suffix.casefold()](replay.design.name, kept), len(kept))
