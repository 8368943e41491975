"""Lengths and angles as text: what is understood, what is shown, and that the one undoes the other."""

from __future__ import annotations

from contextlib import suppress
from math import degrees, inf, nan, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import Refusal
from core.units import (
    UNITS,
    Unit,
    parse_angle,
    parse_length,
    said_in,
    show_angle,
    show_as_meant,
    show_exact,
    show_length,
)

lengths = st.floats(-3000, 3000)


@pytest.mark.parametrize(
    ("text", "unit", "inches"),
    [
        ("7 1/2", "in", 7.5),
        ("7-1/2", "in", 7.5),
        ("7 - 1/2 in", "in", 7.5),
        ("7.5in", "cm", 7.5),
        ("7½", "in", 7.5),
        ("7 ½ in", "mm", 7.5),
        ('7 1/2"', "cm", 7.5),
        ("7½″", "cm", 7.5),
        ("7 1/2''", "cm", 7.5),
        ("7 1\N{FRACTION SLASH}2 inches", "cm", 7.5),
        ("½", "in", 0.5),
        ("⅟32", "in", 1 / 32),
        ("3/2", "in", 1.5),
        ("-1/4", "in", -0.25),
        ("\N{MINUS SIGN}1/4", "in", -0.25),  # a real minus sign
        ("+2", "in", 2.0),
        (".5 in", "cm", 0.5),
        ("7.", "in", 7.0),
        ("7 ⅜ In.", "cm", 7.375),
        ("\uff17 \uff11\uff0f\uff12", "in", 7.5),  # full-width, as an Asian keyboard writes it
        ("\N{ARABIC-INDIC DIGIT SEVEN} in", "cm", 7.0),
    ],
)
def test_inches_are_understood(text: str, unit: Unit, inches: float) -> None:
    """Fractions, decimals, marks and signs, however the keyboard writes them; the inch is 25.4 mm by definition."""
    assert parse_length(text, unit) == pytest.approx(inches * 25.4, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("19cm", "in", 190.0),
        ("19㎝", "in", 190.0),
        ("19,5 cm", "in", 195.0),
        ("19.5", "cm", 195.0),
        ("19 1/2 cm", "in", 195.0),
        ("190 mm", "in", 190.0),
        ("190 MM", "cm", 190.0),
        ("190", "mm", 190.0),
        ("190 millimetres", "in", 190.0),
        ("  19   centimeters ", "in", 190.0),
        ("0", "cm", 0.0),
        ("-0", "cm", 0.0),
        ("0.1 cm", "in", 1.0),
    ],
)
def test_metric_lengths_are_understood(text: str, unit: Unit, mm: float) -> None:
    """Centimetres and millimetres, with decimal comma or point; the unit in the text wins over the field's."""
    assert parse_length(text, unit) == mm


@pytest.mark.parametrize(
    "text",
    [
        *("abc", "7 1/0", "7 3/2", "1/2/3", "7 1", "7.5 1/2", "1,234.5", "1.2.3", "7 ft", "7in 3", "in", "-", "--7"),
        *("nan", "inf", "1e3", "0x10", "7 1/2 cm in", "7 -1 /", "²", "7²", "½½", "7" * 50, "7\x001"),
    ],
)
def test_text_that_is_no_length_is_refused(text: str) -> None:
    """One sentence that repeats the text (cut short where long) and shows how to write it."""
    with pytest.raises(Refusal) as refusal:
        parse_length(text, "in")
    sentence = refusal.value.sentence
    assert text[:39] in sentence
    assert sentence.endswith("is not a length: write it like 7 1/2, 7.5in or 19cm.")


def test_an_empty_field_is_refused() -> None:
    """There is no text to repeat."""
    with pytest.raises(Refusal, match="An empty field is not a length: write it like 19,5 cm"):
        parse_length("  ", "cm")


def test_a_length_beyond_any_garment_is_refused() -> None:
    """100 m and one more is a slip of the fingers."""
    with pytest.raises(Refusal, match="“10001 cm” is longer than 100 metres"):
        parse_length("10001 cm", "cm")


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (190.5, "in", "7 1/2 in"),
        (25.4 * 7, "in", "7 in"),
        (0.0, "in", "0 in"),
        (-0.01, "in", "0 in"),
        (-25.4 / 4, "in", "-1/4 in"),
        (-25.4 * 1.25, "in", "-1 1/4 in"),
        (25.4 * 31.9 / 32, "in", "1 in"),
        (0.8, "in", "1/32 in"),  # 1/32 in is 0.79 mm
        (190.5, "cm", "19.05 cm"),
        (190.0, "cm", "19.0 cm"),
        (-0.01, "cm", "0.0 cm"),
        (190.0, "mm", "190 mm"),
        (190.54, "mm", "190.5 mm"),
        (100.0, "mm", "100 mm"),
        (-0.04, "mm", "0 mm"),
    ],
)
def test_lengths_are_shown_with_their_unit(mm: float, unit: Unit, text: str) -> None:
    """Inches as on the ruler, reduced; centimetres with one or two decimals; millimetres with none or one."""
    assert show_length(mm, unit) == text


def test_an_edited_field_shows_what_the_ruler_cannot() -> None:
    """Ruler lengths look as on the ruler; others keep their decimals, so that leaving a field changes nothing."""
    assert show_exact(190.5, "in") == "7 1/2 in"
    assert show_exact(190.63, "in") == "7.50512 in"
    assert show_exact(190.63, "cm") == "19.063 cm"
    assert show_exact(190.0, "mm") == "190 mm"


@given(lengths)
def test_inches_shown_and_read_again_are_within_a_sixty_fourth(mm: float) -> None:
    """Half of 1/32 in is lost at most."""
    assert abs(parse_length(show_length(mm, "in"), "mm") - mm) <= 25.4 / 64 + 1e-9


@given(lengths, st.sampled_from(("cm", "mm")))
def test_metric_shown_and_read_again_is_within_a_twentieth(mm: float, unit: Unit) -> None:
    """0.05 mm is lost at most."""
    assert abs(parse_length(show_length(mm, unit), "in") - mm) <= 0.05 + 1e-9


@given(lengths, st.sampled_from(UNITS))
def test_exact_text_read_again_is_within_a_thousandth(mm: float, unit: Unit) -> None:
    """A field that is opened and left keeps its length."""
    assert abs(parse_length(show_exact(mm, unit), "mm") - mm) < 0.001


@given(st.text(max_size=20))
def test_any_text_gives_a_finite_length_or_a_refusal(text: str) -> None:
    """No text brings the parser down."""
    with suppress(Refusal):
        assert abs(parse_length(text, "in")) <= 100_000


def test_a_length_that_is_no_number_is_never_shown() -> None:
    """Showing NaN or infinity is a mistake of the program, not of the user."""
    for value in (nan, inf):
        with pytest.raises(ValueError, match="not a finite number"):
            show_length(value, "cm")


@pytest.mark.parametrize("text", ["12.5", "12,5°", "12 1/2", "12½ degrees", "12.5 deg"])
def test_angles_are_understood_in_degrees(text: str) -> None:
    """Text is in degrees, the answer in radians."""
    assert parse_angle(text) == pytest.approx(radians(12.5), abs=1e-15)


@pytest.mark.parametrize("text", ["", "steep", "12 mm", "400", "12'30"])
def test_text_that_is_no_angle_is_refused(text: str) -> None:
    """The sentence shows how to write one."""
    with pytest.raises(Refusal, match=r"is not an angle: write degrees, like 12.6 or 12 1/2\."):
        parse_angle(text)


@given(st.floats(-6, 6))
def test_angles_shown_and_read_again_are_within_a_twentieth_of_a_degree(angle: float) -> None:
    """0.05 degrees are lost at most."""
    assert abs(degrees(parse_angle(show_angle(angle)) - angle)) <= 0.05 + 1e-9


def test_an_angle_is_shown_in_words() -> None:
    """As the step list says it."""
    assert show_angle(radians(12.6)) == "12.6 degrees"


@pytest.mark.parametrize(
    ("sentence", "unit", "said"),
    [
        ("It lies 25.4 mm off.", "in", "It lies 1 in off."),
        ("It meets 62.5 and 60.1 mm off.", "in", "It meets 2 15/32 in and 2 3/8 in off."),
        ("It is 0.3 mm short.", "in", "It is 0.3 mm short."),
        ("Give 6 to 12 mm of 2 panels.", "cm", "Give 0.6 cm to 1.2 cm of 2 panels."),
        ("Panel 2 of the 100mm2 yoke turns 12.6 degrees.", "in", "Panel 2 of the 100mm2 yoke turns 12.6 degrees."),
        ("It lies 25.4 mm off.", "mm", "It lies 25.4 mm off."),
        ("Paper added: 64.5 cm², taken off: 0.00 cm².", "in", "Paper added: 10.0 sq in, taken off: 0.00 sq in."),
        ("Paper added: 64.5 cm².", "cm", "Paper added: 64.5 cm²."),
    ],
)
def test_a_sentence_is_said_in_the_users_unit(sentence: str, unit: Unit, said: str) -> None:
    """Every length in mm is said in the unit; what is no length, or too small for its ruler, stays (1 in = 25.4 mm).

    Areas likewise (1 sq in = 6.4516 cm²).
    """
    assert said_in(sentence, unit) == said


@pytest.mark.parametrize(
    ("length", "unit", "text"),
    [
        (6.35, "in", "1/4 in"),
        (6.0, "in", "6 mm"),
        (6.0, "cm", "0.6 cm"),
        (1475.0, "in", "1475 mm"),
        (0.0, "in", "0 in"),
    ],
)
def test_a_field_shows_a_length_as_it_was_meant(length: float, unit: Unit, text: str) -> None:
    """What no ruler of the unit shows stays in millimetres, so that applying it again changes nothing."""
    assert show_as_meant(length, unit) == text
    assert parse_length(text, unit) == pytest.approx(length, abs=1e-9)
