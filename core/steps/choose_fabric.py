"""Choose a fabric: a piece is cut from another cloth than the step that made it said."""

from __future__ import annotations

from msgspec.structs import replace

from core.errors import Refusal
from core.pieces.records import Change, Garment
from core.steps.step import Effect, Step
from core.units import Unit


class ChooseFabric(Step, frozen=True, tag="fabric"):
    """Cut a piece from a fabric of the design's table; its shape stays."""

    piece: str
    fabric: str

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece."""
        return (garment.piece(self.piece),)

    def effect(self, garment: Garment) -> Effect:
        """The piece with the fabric's name. Refusal for an empty name; the checks look whether there is such a one."""
        piece = garment.piece(self.piece)
        if not self.fabric.strip():
            raise Refusal(f"Name the fabric that piece {self.piece} is cut from.", piece=self.piece)
        if piece.fabric == self.fabric:
            return Effect(Change())
        return Effect(Change(pieces={piece.name: (replace(piece, fabric=self.fabric),)}))

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Cut the outer cup from powernet."""
        return f"Cut the {self.piece} from {self.fabric}."
