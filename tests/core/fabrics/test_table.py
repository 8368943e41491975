"""Rows of the table of fabrics, and what may not be done to them."""

from __future__ import annotations

import msgspec
import pytest

from core.errors import Refusal
from core.fabrics.catalogue import OwnAllowances, named
from core.fabrics.shelf import default_fabrics
from core.fabrics.table import added, altered, removed

FABRICS = default_fabrics()
MAIN = named(FABRICS, "main")


def test_a_row_is_altered_in_its_place() -> None:
    """A narrower satin stands where the satin stood; the others are the same records."""
    narrow = msgspec.structs.replace(MAIN, usable_width=1100.0)
    table = altered(FABRICS, "main", narrow, used={"main"})
    assert table[0] is narrow
    assert all(here is there for here, there in zip(table[1:], FABRICS[1:], strict=True))


def test_a_copy_gets_a_name_of_its_own() -> None:
    """A second main, then a third."""
    once, first = added(FABRICS, "main")
    twice, second = added(once, "main")
    assert (first.name, second.name) == ("main 2", "main 3")
    assert len(twice) == len(FABRICS) + 2


@pytest.mark.parametrize(
    ("field", "value", "why"),
    [
        ("stretch_across", 301.0, r"stretch across of main cannot be 301 %; give from 0 to 300 %"),
        ("stretch_along", -1.0, "stretch along of main cannot be -1 %"),
        ("usable_width", 0.0, "width of main cannot be 0 mm"),
        ("layers", 9, "number of layers of main cannot be 9;"),
        ("allowance", -6.0, "allowance of main cannot be -6 mm"),
        ("allowances", OwnAllowances(hem=-1.0), "cannot have -1 mm outside a hem"),
    ],
)
def test_values_that_no_cloth_has_are_refused(field: str, value: object, why: str) -> None:
    """In a sentence that names the fabric and the bounds."""
    with pytest.raises(Refusal, match=why):
        altered(FABRICS, "main", msgspec.structs.replace(MAIN, **{field: value}), used=())


def test_a_fabric_in_use_keeps_its_name_and_its_row() -> None:
    """Else a piece would have no cloth; one that nobody uses may be called anew, but not as another is."""
    other = msgspec.structs.replace(MAIN, name="ivory satin")
    with pytest.raises(Refusal, match="Pieces are cut from main"):
        altered(FABRICS, "main", other, used={"main"})
    with pytest.raises(Refusal, match="Pieces are cut from main"):
        removed(FABRICS, "main", used={"main"})
    with pytest.raises(Refusal, match="a fabric sheer already"):
        altered(FABRICS, "main", msgspec.structs.replace(MAIN, name="sheer"), used=())
    assert altered(FABRICS, "main", other, used=())[0].name == "ivory satin"
    assert removed(FABRICS, "foam", used={"main"}) == FABRICS[:-1]
    with pytest.raises(Refusal, match="only fabric"):
        removed(FABRICS[:1], "main", used=())
