"""Lengths and angles as people write them: inches with fractions to 1/32, centimetres, millimetres, degrees.

Inside, a length is a float in millimetres and an angle a float in radians; only this module turns text into either.
The inch is exactly 25.4 mm (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from math import degrees, isfinite, radians
from typing import Final, Literal, TypeAlias

from core.errors import Refusal

Unit: TypeAlias = Literal["mm", "cm", "in"]

UNITS: Final[tuple[Unit, ...]] = ("mm", "cm", "in")
MM_PER: Final[dict[Unit, float]] = {"mm": 1.0, "cm": 10.0, "in": 25.4}

FINEST_INCH: Final = 32
"""Rulers of the trade show thirty-seconds of an inch (0.8 mm)."""

LONGEST_TEXT: Final = 40
LONGEST: Final = 100_000.0
"""No length in a garment, a lay or a page comes near 100 m: a longer one is a slip of the fingers."""

_SPELLINGS: Final[dict[str, Unit]] = {
    **dict.fromkeys(("mm", "mm.", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "cm.", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"'), "in"),
}
_DEGREES: Final = ("", "°", "deg", "deg.", "degree", "degrees")
_EXAMPLES: Final[dict[Unit, str]] = {
    "in": "7 1/2, 7.5in or 19cm",
    "cm": "19,5 cm, 19.5 or 7 1/2 in",
    "mm": "190 mm, 19cm or 7 1/2 in",
}
_WRITTEN_AS: Final = {
    **dict.fromkeys(map(ord, "\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{FIGURE DASH}\N{EN DASH}\N{MINUS SIGN}"), "-"),
    **dict.fromkeys(map(ord, "\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}\N{PRIME}"), "'"),
    **dict.fromkeys(map(ord, "\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}\N{DOUBLE PRIME}"), '"'),
    ord("\N{FRACTION SLASH}"): "/",
}
_SAME_MEANING: Final = ("<fraction>", "<wide>", "<narrow>", "<noBreak>", "<square>")
"""Unicode's compatibility forms that mean what their plain form does; a superscript does not (7 squared is not 72)."""
_NUMBER: Final = re.compile(
    r"""(?P<sign>[+-]?)\s*
        (?: (?: (?P<whole>\d+) (?:\s*-\s*|\s+) )? (?P<over>\d+)\s*/\s*(?P<under>\d+)
          | (?P<decimal>\d+(?:[.,]\d*)?|[.,]\d+) )
        \s* (?P<unit>[^\d\s.,/+-][^\d\s,/+-]*)?""",
    re.VERBOSE | re.ASCII,
)


_SAID_MM: Final = re.compile(r"(?<![\w./])-?\d+(?:\.\d+)?(?: mm\b|(?=(?: and| to| or) -?\d+(?:\.\d+)? mm\b))")
_SAID_CM2: Final = re.compile(r"(?<![\w./])(\d+(?:\.\d+)?) cm²")
CM2_PER_SQ_IN: Final = 2.54**2
"""The inch is 25.4 mm exactly, so the square inch is 6.4516 cm²."""


def parse_length(text: str, unit: Unit) -> float:
    """The length in mm that a text means; a bare number is in `unit`.

    Understood: `7 1/2`, `7-1/2`, `7½`, `7.5in`, `7 1/2"`, `19cm`, `19,5 cm`, `190 mm`, with a sign before them. A comma
    is a decimal comma. Refusal, with the text and examples, for anything else.
    """
    number = _number(text, _SPELLINGS)
    if number is None:
        raise Refusal(f"{_quoted(text)} is not a length: write it like {_EXAMPLES[unit]}.")
    value, spelling = number
    length = float(value * Fraction(str(MM_PER[_SPELLINGS[spelling] if spelling else unit])))
    if abs(length) > LONGEST:
        raise Refusal(f"{_quoted(text)} is longer than 100 metres: check the number and its unit.")
    return length


def show_length(length: float, unit: Unit) -> str:
    """A length in mm as text with its unit: `7 1/2 in` (nearest 1/32), `19.05 cm`, `190.5 mm`."""
    if unit == "in":
        return f"{_mixed(_in_unit(length, unit))} in"
    if unit == "cm":
        return f"{_decimal(_in_unit(length, unit), most=2, least=1)} cm"
    return f"{_decimal(_in_unit(length, unit), most=1, least=0)} mm"


def show_exact(length: float, unit: Unit) -> str:
    """A length in mm as text that keeps a thousandth of a millimetre, for fields that are edited.

    Lengths that a ruler of the unit shows are written as on the ruler (`7 1/2 in`), others as decimals (`7.50512 in`).
    """
    shown = show_length(length, unit)
    if abs(parse_length(shown, unit) - length) < 0.0005:
        return shown
    places: dict[Unit, int] = {"mm": 3, "cm": 4, "in": 5}
    return f"{_decimal(_in_unit(length, unit), most=places[unit], least=1)} {unit}"


def said_in(sentence: str, unit: Unit) -> str:
    """A sentence of the core, whose lengths are all in mm (`62.5 mm`, `62.5 and 60.1 mm`), in the user's unit.

    Areas are all in cm², and said in square inches (`sq in`) where lengths are in inches. A length that a ruler of the
    unit would show as nothing stays in mm, so that a small gap is not said to be none.
    """
    if unit == "mm":
        return sentence
    said = _SAID_CM2.sub(_said_sq_in, sentence) if unit == "in" else sentence
    return _SAID_MM.sub(lambda found: _said(found[0], unit), said)


def _said_sq_in(found: re.Match[str]) -> str:
    places = len(found[1].partition(".")[2])
    return f"{float(found[1]) / CM2_PER_SQ_IN:.{places}f} sq in"


def _said(text: str, unit: Unit) -> str:
    length = float(text.removesuffix(" mm"))
    finest = MM_PER["in"] / FINEST_INCH if unit == "in" else 0.1
    return show_length(length, unit) if abs(length) >= finest or length == 0 else f"{text.removesuffix(' mm')} mm"


def show_as_meant(length: float, unit: Unit) -> str:
    """A length in mm as text that means exactly it, for fields: in the unit where its ruler shows it, else in mm.

    6 mm stay `6 mm` where lengths are in inches, and are not a quarter of one.
    """
    shown = show_length(length, unit)
    return shown if abs(parse_length(shown, unit) - length) < 0.0005 else f"{_decimal(length, most=3, least=0)} mm"


def parse_angle(text: str) -> float:
    """The angle in radians that a text in degrees means: `12.6`, `12,6°`, `12 1/2 degrees`. Refusal for other text."""
    number = _number(text, _DEGREES)
    if number is None or abs(number[0]) > 360:
        raise Refusal(f"{_quoted(text)} is not an angle: write degrees, like 12.6 or 12 1/2.")
    return radians(float(number[0]))


def show_angle(angle: float) -> str:
    """An angle in radians as text: `12.6 degrees`."""
    return f"{_decimal(degrees(angle), most=1, least=1)} degrees"


# --------------------------------------------------------------------------------------------------------------
# reading


def _number(text: str, spellings: dict[str, Unit] | tuple[str, ...]) -> tuple[Fraction, str] | None:
    """The number and the unit's spelling ("" for none) in a text, exactly; None where it is no number."""
    match = _NUMBER.fullmatch(_plain(text)) if len(text) <= LONGEST_TEXT else None
    if match is None:
        return None
    spelling = (match["unit"] or "").lower()
    if spelling and spelling not in spellings:
        return None
    if match["decimal"]:
        value = Fraction("0" + match["decimal"].replace(",", ".").rstrip("."))
    else:
        over, under = int(match["over"]), int(match["under"])
        if under == 0 or (match["whole"] and over >= under):
            return None
        value = int(match["whole"] or 0) + Fraction(over, under)
    return (-value if match["sign"] == "-" else value), spelling


def _plain(text: str) -> str:
    """The text in plain digits, slashes, dashes and quotes; a fraction in one character stands apart: `7 1/2`."""
    plain = "".join(_plain_character(c) for c in text.translate(_WRITTEN_AS)).translate(_WRITTEN_AS)
    return plain.replace("''", '"').strip()


def _plain_character(character: str) -> str:
    if character.isdecimal():
        return str(unicodedata.decimal(character))
    form = unicodedata.decomposition(character).partition(" ")[0]
    if form not in _SAME_MEANING:
        return character
    space = " " if form == "<fraction>" else ""
    return space + unicodedata.normalize("NFKC", character)


def _quoted(text: str) -> str:
    """The text in quotation marks, cut short where it is long; said in words where there is none."""
    stripped = " ".join(text.split())
    if not stripped:
        return "An empty field"
    return f"“{stripped if len(stripped) <= LONGEST_TEXT else stripped[: LONGEST_TEXT - 1] + '…'}”"


# --------------------------------------------------------------------------------------------------------------
# showing


def _in_unit(length: float, unit: Unit) -> float:
    if not isfinite(length):
        raise ValueError("a length is not a finite number")
    return length / MM_PER[unit]


def _mixed(inches: float) -> str:
    """The nearest thirty-second as a whole number and a reduced fraction: `7 1/2`, `-1/32`, `0`."""
    parts = round(abs(inches) * FINEST_INCH)
    whole, rest = divmod(Fraction(parts, FINEST_INCH), 1)
    words = [str(whole)] if whole or not rest else []
    if rest:
        words.append(f"{rest.numerator}/{rest.denominator}")
    return ("-" if inches < 0 and parts else "") + " ".join(words)


def _decimal(value: float, *, most: int, least: int) -> str:
    """The value with at most `most` and at least `least` decimals, without a minus before zero."""
    text = f"{value:.{most}f}"
    while len(text.partition(".")[2]) > least and text.endswith("0"):
        text = text[:-1]
    text = text.rstrip(".")
    return text.removeprefix("-") if float(text) == 0 else text
