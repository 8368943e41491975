"""The fabrics that a design begins with, and what a fabric's record refuses."""

from __future__ import annotations

from typing import get_args

import msgspec
import pytest

from core.errors import Refusal
from core.fabrics.catalogue import Fabric, Role, named
from core.fabrics.shelf import default_fabrics, source_of

CLOTHS = (
    "duchess satin", "stretch mesh", "lining satin", "powernet", "crêpe", "silk tulle", "nylon net", "organza",
    "cup foam",
)  # fmt: skip


def test_a_new_design_has_the_cloths_of_the_trade_with_a_fabric_for_every_step() -> None:
    """Main, sheer, lining and cup, which steps ask for by name, come first; every role is one of the trade's."""
    assert [fabric.name for fabric in default_fabrics()][:4] == ["main", "sheer", "lining", "cup"]
    assert tuple(fabric.cloth for fabric in default_fabrics()) == CLOTHS
    assert all(fabric.role in get_args(Role) for fabric in default_fabrics())
    assert len({fabric.name for fabric in default_fabrics()}) == len(CLOTHS)


@pytest.mark.parametrize("field", ["usable_width", "stretch_along", "stretch_across", "nap", "layers", "allowance"])
def test_every_value_says_where_it_is_from(field: str) -> None:
    """A source or "common practice"; a value that was changed is the user's own."""
    for fabric in default_fabrics():
        assert source_of(fabric, field) not in ("", "yours")
    other = {"usable_width": 1.0, "stretch_along": 99.0, "stretch_across": 99.0, "nap": None, "layers": 8}
    changed = msgspec.structs.replace(default_fabrics()[0], **{field: other.get(field, 99.0)})
    assert source_of(changed, field) == "yours"


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
    """Of goods 140 or 150 cm or 54 in wide, 1 to 1.5 cm at each side are lost (common practice, trade.md F)."""
    for fabric in default_fabrics():
        if fabric.name == "foam":  # cut from a sheet
            continue
        lost = [width - fabric.usable_width for width in (1400.0, 1500.0, 54 * 25.4)]
        assert any(20.0 <= both <= 30.0 for both in lost)


def test_a_fabric_that_is_not_there_is_refused() -> None:
    """The sentence names the fabrics there are."""
    with pytest.raises(Refusal, match=r"no fabric “lace” in this design \(there are main, sheer, lining, cup, crêpe"):
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
