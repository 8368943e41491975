"""Labels that fit inside small pieces."""

from __future__ import annotations

import pytest
from shapely import Point as Place
from shapely import Polygon

from core.finishing.finish import finish
from core.outputs.piece_drawing import piece_lines
from core.outputs.piece_label import in_two, label_spot, piece_label
from tests.samples import design, replayed


def test_a_name_is_parted_where_both_lines_are_nearly_alike() -> None:
    """At a space, the longer line as short as can be; one word stays whole."""
    assert in_two("foam outer lower cup") == ("foam outer", "lower cup")
    assert in_two("side front") == ("side", "front")
    assert in_two("front") == ("front",)


@pytest.mark.parametrize("name", ["lining outer lower cup", "foam inner lower cup"])
def test_parts_of_a_cup_at_half_scale_say_their_name_and_count(name: str) -> None:
    """Printed at 1:2 there is no room for a line of 22 letters: it stands in two, all within the clear circle."""
    piece = next(one for one in finish(design("ball"), replayed("ball").garment) if one.name == name)
    at, room = label_spot(piece, piece_lines(piece, scale=0.5), scale=0.5)
    texts = piece_label(piece, at, room, scale=0.5).texts()
    words = [text.text for text in texts]
    assert words[0] == str(piece.number)
    assert " ".join(words[1:3]) == name
    assert words[-1] == "cut 1 pair"
    assert all(Polygon(text.box).within(Place(at).buffer(1.1 * room)) for text in texts)
