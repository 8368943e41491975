"""What a layer of a piece is usually cut from, by what it is called."""

from __future__ import annotations

from typing import Final

from core.fabrics.catalogue import Fabric

UNDERLINING: Final = "organza"
"""Light, firm and without stretch: what underlining is usually cut from (common practice)."""

SAME_CLOTH: Final = ("second", "double", "layer")
"""Words for another layer of the piece's own cloth, such as a second tulle."""


def layer_cloth(word: str, own: str, fabrics: tuple[Fabric, ...]) -> str:
    """The name of the fabric for a layer called by a word, of a piece whose own fabric is `own`.

    A fabric that is called by the word itself; for underlining, organza; for a second layer the piece's own; else
    lining, where there is such a fabric, else the piece's own.
    """
    names = {fabric.name for fabric in fabrics}
    if word in names:
        return word
    if word.startswith("under") and UNDERLINING in names:
        return UNDERLINING
    if any(part in word for part in SAME_CLOTH):
        return own
    return "lining" if "lining" in names else own
