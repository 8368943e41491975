"""What the user decides about finishing: how edges are finished, what is cut double, how darts are pressed, bones.

Edges are named by the piece and by the origin they descend from, and stretches of them by places on that origin, so
that a finish stays where it was put when the lines of the design move.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Final, Literal, TypeAlias, get_args

import msgspec

from core.fabrics.catalogue import Allowance
from core.geometry.margins import EndKind
from core.pieces.places import Place
from core.pieces.records import Side

EdgeUse: TypeAlias = Literal["plain", "hem", "facing", "binding", "zip", "buttons", "lapped raw", "turning gap"]
EDGE_USES: Final[tuple[EdgeUse, ...]] = get_args(EdgeUse)

QUARTER_INCH: Final = 6.35
THREE_QUARTERS: Final = 19.05
USE_ALLOWANCES: Final[Mapping[EdgeUse, float]] = {
    "facing": QUARTER_INCH,
    "binding": QUARTER_INCH,
    "zip": THREE_QUARTERS,
    "lapped raw": 0.0,
}
"""Allowance in mm that a finish wants. A bridal dressmaker's widths: 1/4 in at necks and bindings, 3/4 in at the zip
(trade.md D1); net lapped over the cloth is cut raw on its line (a handbook on fabrics, D1)."""

BUTTON_EXTENSION: Final = 20.0
"""mm beyond the centre line that carry the buttons: about a button's width (common practice)."""

LEAST_GAP: Final = 60.0
"""A turning gap is at least so long, in mm (cutting.md 26): a hand must get in."""

Extension: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=100)]
Pressed: TypeAlias = Literal["centre", "side"]


class EdgeFinish(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """How an edge of a piece, or a stretch of it, is finished.

    `edge` is the origin's full name. From `start` to `stop`, both given or neither, only the allowance is another;
    `allowance` None is what the finish and the fabric want. `ends` tells how the allowance ends at the origin's first
    and last end; "" is as usual. `extension` in mm is that of a button stand.
    """

    piece: str
    edge: str
    side: Side = ""
    use: EdgeUse = "plain"
    allowance: Allowance | None = None
    start: Place | None = None
    stop: Place | None = None
    ends: tuple[EndKind | Literal[""], EndKind | Literal[""]] = ("", "")
    extension: Extension = BUTTON_EXTENSION

    @property
    def is_stretch(self) -> bool:
        """Whether it is about a stretch of the edge only."""
        return self.start is not None

    def is_about(self, other: EdgeFinish) -> bool:
        """Whether both are about the same edge, or the same stretch of it."""
        return _key(self) == _key(other)


def _key(finish: EdgeFinish) -> tuple[str, str, str, Place | None, Place | None]:
    return (finish.piece, finish.edge, finish.side, finish.start, finish.stop)


class Doubled(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A piece cut double, sewn closed round its edge and turned through a gap in one edge.

    `allowance` mm are left round it and trimmed to `trimmed` once sewn (common practice); 0 where it is cut to the
    stitched edge. The gap is `gap` mm long, in the middle of the edge that descends from `through`.
    """

    piece: str
    through: str
    side: Side = ""
    gap: Annotated[float, msgspec.Meta(ge=LEAST_GAP, le=1000)] = LEAST_GAP
    allowance: Allowance = 6.0
    trimmed: Allowance = 3.0


class PressedDart(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A dart that is pressed to a side of the user's choosing: its cap is cut for that."""

    piece: str
    dart: str
    towards: Pressed


class Bone(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A bone along an edge of a piece; it ends `short` mm before both ends of the edge.

    6 mm is the least before an edge that touches skin (trade.md I, common practice).
    """

    piece: str
    edge: str
    side: Side = ""
    short: Annotated[float, msgspec.Meta(ge=6.0, le=100)] = 10.0


class Finishing(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Everything decided about finishing. `corners` is how allowances end where nothing else is said."""

    edges: tuple[EdgeFinish, ...] = ()
    doubled: tuple[Doubled, ...] = ()
    darts: tuple[PressedDart, ...] = ()
    bones: tuple[Bone, ...] = ()
    waist_stay: bool = False
    corners: EndKind = "mitred"

    def with_edge(self, finish: EdgeFinish) -> Finishing:
        """With a finish in the place of the one about the same edge or stretch, if there is one."""
        return msgspec.structs.replace(self, edges=(*self.without_edge(finish).edges, finish))

    def without_edge(self, finish: EdgeFinish) -> Finishing:
        """Without what is said about an edge or a stretch."""
        kept = tuple(known for known in self.edges if not known.is_about(finish))
        return msgspec.structs.replace(self, edges=kept)

    def with_doubled(self, doubled: Doubled) -> Finishing:
        """With a piece cut double and turned, in the place of what was said of it before."""
        return msgspec.structs.replace(self, doubled=(*self.without_doubled(doubled.piece).doubled, doubled))

    def without_doubled(self, piece: str) -> Finishing:
        """With a piece that is not turned."""
        return msgspec.structs.replace(self, doubled=tuple(one for one in self.doubled if one.piece != piece))

    def with_dart(self, pressed: PressedDart) -> Finishing:
        """With a dart pressed another way."""
        kept = tuple(one for one in self.darts if (one.piece, one.dart) != (pressed.piece, pressed.dart))
        return msgspec.structs.replace(self, darts=(*kept, pressed))

    def with_bone(self, bone: Bone) -> Finishing:
        """With a bone, in the place of the one along the same edge."""
        return msgspec.structs.replace(self, bones=(*self.without_bone(bone).bones, bone))

    def without_bone(self, bone: Bone) -> Finishing:
        """Without the bone along an edge."""
        kept = tuple(one for one in self.bones if (one.piece, one.edge, one.side) != (bone.piece, bone.edge, bone.side))
        return msgspec.structs.replace(self, bones=kept)

    def edge_of(self, piece: str, origin: str, side: Side) -> EdgeFinish | None:
        """What is said about a whole edge of a piece."""
        for finish in self.edges:
            if not finish.is_stretch and (finish.piece, finish.edge, finish.side) == (piece, origin, side):
                return finish
        return None

    def doubled_piece(self, piece: str) -> Doubled | None:
        """How a piece is cut double and turned; None where it is not."""
        return next((one for one in self.doubled if one.piece == piece), None)
