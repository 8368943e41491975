"""Two variants on one form: the more open shows more and comes nearer."""

from __future__ import annotations

import msgspec

from core.design.design import Design
from core.design.replay import Replay, replay
from core.form.compared import compared
from core.form.shown import Fitter, garments_of
from core.steps.style_line import StyleLine
from tests.samples import replayed
from tests.samples_stands import demo_stand


def _lower(design: Design, by: float) -> Replay:
    step = next(s for s in design.steps if isinstance(s, StyleLine) and s.purpose == "sheer")
    points = tuple(msgspec.structs.replace(p, y=p.y - by) for p in step.points[1:-1])
    moved = msgspec.structs.replace(step, points=(step.points[0], *points, step.points[-1]))
    return replay(design.with_step(moved), replayed("concert"))


def test_the_more_open_of_two_variants_shows_more_and_comes_nearer() -> None:
    """A line 15 mm lower on the demo: nearer the bust point, a larger share sheer; no line, no rows."""
    done = replayed("concert")
    fitter = Fitter(demo_stand("concert"))
    kept = fitter.laid(garments_of(done), done.design.ease, "mm")
    now = fitter.laid(garments_of(_lower(done.design, 15.0)), done.design.ease, "mm")
    rows = {what: (float(one.split()[0]), float(other.split()[0])) for what, one, other in compared(kept, now, "mm")}
    near, share = rows["nearest to the bust point, ± 5 mm"], rows["of the breast sheer, ± 5 points"]
    assert 5.0 < near[0] - near[1] < 17.0
    assert share[1] > share[0]
    assert len(rows) == 4

    bare = fitter.laid((done.block,), done.design.ease, "mm")
    assert compared(bare, bare, "mm") == ()
    assert [row[2] for row in compared(kept, bare, "mm")] == ["none"] * 4
