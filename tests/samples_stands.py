"""Forms that many tests look at, each solved once a run: a second's work every time."""

from __future__ import annotations

from functools import cache

from core.body.body import Measured, complete
from core.body.shape import Shape
from core.form.shown import Stand, stand_for
from tests.samples import design


@cache
def _stand(values: tuple[tuple[str, float], ...], shape: Shape) -> Stand:
    return stand_for(Measured(dict(values), frozenset()), shape)


def stand_once(measured: Measured, shape: Shape) -> Stand:
    """What `stand_for` makes, made anew only for a body that no test has asked for before."""
    return _stand(tuple(sorted(measured.values.items())), shape)


def demo_stand(name: str) -> Stand:
    """The form of a sample design's client."""
    body = design(name).body
    return stand_once(complete(body), body.shape)
