"""What makes each tool but the first, by its id in the catalogue: all of them are imported with this module."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from app.canvas.table import CuttingTable
from app.canvas.tool import Tool
from app.tools.cup import CupTool
from app.tools.cut import CutTool
from app.tools.draw_line import DrawLine
from app.tools.flatten import FlattenTool
from app.tools.grain import GrainTool
from app.tools.halves import CopyTool, MirrorTool, UnfoldTool
from app.tools.join import JoinTool
from app.tools.lay_together import LayTogetherTool
from app.tools.move_edge import MoveEdgeTool
from app.tools.neckline import NecklineTool
from app.tools.pivot import PivotTool
from app.tools.set_back import SetBackTool
from app.tools.slash import SlashTool
from app.tools.style_picture import StylePictureTool
from app.tools.take_in import TakeInTool
from app.tools.tape import TapeTool
from app.tools.toile import ToileTool
from app.tools.trim import TrimTool
from app.tools.true_line import TrueTool
from app.tools.walk import WalkTool

MAKERS: Final[Mapping[str, Callable[[CuttingTable], Tool]]] = {
    "neckline": NecklineTool,
    "sheer-line": partial(DrawLine, purpose="sheer"),
    "panel-line": partial(DrawLine, purpose="panel"),
    "mark": partial(DrawLine, purpose="mark"),
    "pivot": PivotTool,
    "cut": CutTool,
    "flatten": FlattenTool,
    "take-in": TakeInTool,
    "toile": ToileTool,
    "slash": SlashTool,
    "set-back": SetBackTool,
    "true": TrueTool,
    "trim": TrimTool,
    "join": JoinTool,
    "walk": WalkTool,
    "lay-together": LayTogetherTool,
    "tape": TapeTool,
    "style-picture": StylePictureTool,
    "move-edge": MoveEdgeTool,
    "copy": CopyTool,
    "mirror": MirrorTool,
    "unfold": UnfoldTool,
    "grain": GrainTool,
    "cup": CupTool,
}
