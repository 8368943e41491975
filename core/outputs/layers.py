"""The layers of a print: what a viewer can hide, and what can be left out from the beginning."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal, TypeAlias

from core.outputs.drawing import ROLES, Role

Layer: TypeAlias = Literal["cutting lines", "stitching lines", "marks", "guides", "labels", "page"]

LAYERS: Final[Mapping[Layer, str]] = {
    "cutting lines": "what is cut, and folds",
    "stitching lines": "what is sewn, and darts",
    "marks": "notches, clips and grain",
    "guides": "levels, drawn lines, names of edges, arrows to mates",
    "labels": "numbers, names and counts",
    "page": "squares, rulers, joints and the foot of the page",
}

OPTIONAL: Final[frozenset[Layer]] = frozenset({"stitching lines", "guides"})
"""Without the others a piece could not be cut, matched or told from its neighbours."""

_BY_ROLE: Final[Mapping[Role, Layer]] = {
    "cutting line": "cutting lines",
    "fold": "cutting lines",
    "stitching line": "stitching lines",
    "dart": "stitching lines",
    "dart base": "stitching lines",
    "notch": "marks",
    "clip": "marks",
    "grain": "marks",
    "level": "guides",
    "mark": "guides",
    "join arrow": "guides",
    "edge name": "guides",
    "label": "labels",
}

LAYER_OF: Final[Mapping[Role, Layer]] = {role: _BY_ROLE.get(role, "page") for role in ROLES}
"""Every role's layer."""
