"""Designs altered by a hand that also makes the digest fit: they are refused in a sentence, or they are designs."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from core.checks.report import report
from core.design.replay import replay
from core.errors import Refusal
from core.file.envelope import canonical
from core.file.reader import design_from_bytes
from core.file.writer import design_to_bytes
from core.shipped import asset
from tests.core.file.sample_designs import panel_design

NUMBERS = (0, -0.0, 1e-300, 1e-9, -1, 0.5, 1, 90, 180, 9999, -9999.0)
OTHERS: tuple[object, ...] = (None, True, [], {}, "", "x", "front", "back", "front.shoulder_dart", "bust_point", 1.5)

SOURCES = (design_to_bytes(panel_design()), asset("demo", "concert-bodice.sheer").read_bytes())


def places(at: list[Any] | dict[Any, Any]) -> Iterator[tuple[Any, Any]]:
    """Every entry of a document, as (the list or object it stands in, its index or key)."""
    for key in list(at) if isinstance(at, dict) else range(len(at)):
        yield at, key
        if isinstance(at[key], dict | list):
            yield from places(at[key])


def altered(seed: int) -> bytes:
    """A file with one to three entries replaced, doubled or taken out."""
    chance = np.random.default_rng(seed)
    whole = json.loads(SOURCES[seed % 2])
    for _ in range(chance.integers(1, 4)):
        found = list(places(whole["design"]))
        at, key = found[chance.integers(len(found))]
        act = chance.random()
        if act < 0.7:
            choices = NUMBERS if isinstance(at[key], float | int) and chance.random() < 0.8 else OTHERS
            at[key] = choices[chance.integers(len(choices))]
        elif act < 0.85 and isinstance(at, list):
            at.insert(key, at[key])
        else:
            del at[key]
    whole["digest"] = hashlib.sha256(canonical(whole["design"])).hexdigest()
    return json.dumps(whole).encode()


def ending(data: bytes) -> str:
    """The sentence that refuses the file, or "" where it opens, replays and can be checked."""
    try:
        done = replay(design_from_bytes(data))
        report(done)
        assert all(stage.step.sentence(stage.before, done.design.unit) for stage in done.stages)
    except Refusal as refusal:
        return refusal.sentence
    return ""


@pytest.mark.parametrize("hundred", range(3))
def test_an_altered_design_is_refused_or_replays(hundred: int) -> None:
    """300 of them: nothing but a Refusal ever comes out, at opening, replay, checking or saying the steps."""
    endings = [ending(altered(seed)) for seed in range(100 * hundred, 100 * hundred + 100)]
    assert endings.count("") > 10
    assert all(sentence.endswith(".") for sentence in endings if sentence)
    assert len(endings) - endings.count("") > 10
