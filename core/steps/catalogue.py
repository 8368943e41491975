"""The catalogue of steps: file format, step list, command line and law tests all read this one list."""

from __future__ import annotations

from typing import TypeAlias

from core.steps.choose_fabric import ChooseFabric
from core.steps.copy_pieces import CopyPieces
from core.steps.cup import Cup
from core.steps.cut import Cut
from core.steps.flatten import Flatten
from core.steps.grain import TurnGrain
from core.steps.join import Join
from core.steps.mirror import Mirror
from core.steps.move_edge import MoveEdge
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot
from core.steps.seam_ease import SeamEase
from core.steps.set_back import SetBack
from core.steps.slash import SlashAndSpread
from core.steps.style_line import StyleLine
from core.steps.take_in import TakeIn
from core.steps.trim import Trim
from core.steps.true import Truing
from core.steps.unfold import Unfold

AnyStep: TypeAlias = (
    Neckline
    | StyleLine
    | Pivot
    | Cut
    | Join
    | Flatten
    | SlashAndSpread
    | TakeIn
    | SetBack
    | Truing
    | Trim
    | MoveEdge
    | CopyPieces
    | ChooseFabric
    | SeamEase
    | Mirror
    | Unfold
    | Cup
    | TurnGrain
)
