"""Blocks by the handbook methods, with the ease they are written for."""

from __future__ import annotations

from functools import cache
from typing import Final

from core.blocks.draft import drafted
from core.blocks.ease import EASE_PRESETS, Ease
from core.body.body import complete, entered
from core.errors import Refusal
from tests.core.blocks.drafted_bodies import CLIENT, Sample
from tests.samples_bodies import SURVEY, bodies

HANDBOOKS: Final = ("shoulder-dart", "armhole-dart")


def own_ease(method: str) -> Ease:
    """The ease that a method is written for."""
    return next(preset.ease for preset in EASE_PRESETS if preset.name == f"handbook, {method.replace('-', ' ')}")


def by_handbook(method: str, ease: Ease | None = None, /, **changes: float) -> Sample:
    """The client's block by a method, some measurements changed (cm, degrees)."""
    measured = complete(entered("Client", "cm", CLIENT | changes))
    return Sample(method, measured, drafted(measured, ease or own_ease(method), method))


@cache
def women_by(method: str) -> tuple[tuple[Sample, ...], tuple[str, ...]]:
    """Every twentieth woman of the survey by a method with the default ease, and the refusals."""
    drawn, refused = [], []
    for body in bodies()[:: 20 if SURVEY.exists() else 1]:
        measured = complete(body)
        try:
            drawn.append(Sample(f"{method}: {body.name}", measured, drafted(measured, Ease(), method)))
        except Refusal as refusal:
            refused.append(refusal.sentence)
    return tuple(drawn), tuple(refused)
