"""The fabrics that a design begins with, and what a fabric's record refuses."""

from __future__ import annotations

from typing import get_args

import msgspec
import pytest

from core.errors import Refusal
from core.fabrics.catalogue import Fabric, Role, default_fabrics, named


def test_a_new_design_has_a_fabric_for_every_kind_of_piece() -> None:
    """Main, sheer, lining and cup, each under its own name and with a role of the trade."""
    assert [fabric.name for fabric in default_fabrics()] == ["main", "sheer", "lining", "cup"]
    assert all(fabric.role in get_args(Role) for fabric in default_fabrics())


def test_stretch_mesh_is_cut_double_without_allowance() -> None:
    """The method's own habit: 0 mm on stretch mesh, two layers, most stretch across (trade.md D1, D6)."""
    sheer = named(default_fabrics(), "sheer")
    assert (sheer.allowance, sheer.layers) == (0.0, 2)
    assert sheer.stretch_across > sheer.stretch_along > 0


def test_satin_has_its_allowance_by_the_edge_and_lies_one_way() -> None:
    """Satin shines by direction, so it is laid like napped goods (trade.md F); its allowance depends on the edge."""
    main = named(default_fabrics(), "main")
    assert main.allowance is None
    assert main.nap
    assert (main.stretch_along, main.stretch_across) == (0.0, 0.0)


def test_the_selvedges_are_not_usable() -> None:
    """Of goods 140 or 150 cm wide, 1 to 1.5 cm at each side are lost (common practice, trade.md F)."""
    for fabric in default_fabrics():
        lost = [width - fabric.usable_width for width in (1400.0, 1500.0)]
        assert any(20.0 <= both <= 30.0 for both in lost)


def test_a_fabric_that_is_not_there_is_refused() -> None:
    """The sentence names the fabrics there are."""
    with pytest.raises(Refusal, match=r"no fabric “lace” in this design \(there are main, sheer, lining, cup\)"):
        named(default_fabrics(), "lace")


@pytest.mark.parametrize(
    "field",
    ['"usable_width":0', '"usable_width":1e6', '"layers":0', '"layers":1.5', '"stretch_across":-1', '"hat":1'],
)
def test_absurd_fabrics_are_refused_when_they_are_read(field: str) -> None:
    """Widths, stretches and layers have bounds, and unknown fields are no fabric's."""
    with pytest.raises(msgspec.ValidationError):
        msgspec.json.decode(f'{{"name":"a","role":"main",{field}}}', type=Fabric)


def test_fabrics_survive_the_document() -> None:
    """Encoded as JSON and decoded, they are the same records."""
    encoded = msgspec.json.encode(default_fabrics())
    assert msgspec.json.decode(encoded, type=tuple[Fabric, ...]) == default_fabrics()
