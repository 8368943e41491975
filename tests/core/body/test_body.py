"""A body completed, refused where it cannot be true, and read from a body file."""

from __future__ import annotations

import json
from math import inf, nan

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.body.body import Body, complete, entered, read_body
from core.body.catalogue import MEASUREMENTS
from core.body.contradictions import RELATIONS
from core.errors import Refusal
from core.units import Unit
from tests.samples_bodies import bodies, extreme_body


def changed(**values: float | None) -> Body:
    """The median woman with some measurements changed, in mm; None leaves one out."""
    measurements = {**extreme_body().measurements, **values}
    return Body("changed", "cm", {id_: value for id_, value in measurements.items() if value is not None})


def refusal_of(body: Body) -> str:
    """The sentence with which a body is refused."""
    with pytest.raises(Refusal) as refusal:
        complete(body)
    return refusal.value.sentence


def test_measurements_taken_are_kept_and_the_rest_estimated() -> None:
    """What was taken comes back as it was; what was not is marked as estimated."""
    body = extreme_body()
    measured = complete(body)
    assert measured.values.keys() == MEASUREMENTS.keys()
    assert {id_: measured.values[id_] for id_ in body.measurements} == body.measurements
    assert measured.estimated == MEASUREMENTS.keys() - body.measurements.keys()


def test_every_woman_of_the_survey_is_complete() -> None:
    """None of the survey's women is refused: no bound is so narrow that it contradicts a body that exists."""
    for body in bodies():
        assert complete(body).values.keys() == MEASUREMENTS.keys()


def test_what_was_measured_cannot_be_altered() -> None:
    """The values are shared between pieces, so they are read-only."""
    measured = complete(extreme_body())
    with pytest.raises(TypeError):
        measured.values["bust"] = 1.0  # type: ignore[index]  # that is what must fail


def test_a_missing_measurement_is_named_with_how_to_take_it() -> None:
    """The sentence names it in plain words, says how to take it and lists what else is missing."""
    assert refusal_of(changed(under_bust=None)) == (
        "The under-bust is missing and no block can be drafted without it; to take it: pass the tape level round the "
        "ribs just below the breasts."
    )
    assert "(also missing: shoulder length)" in refusal_of(changed(under_bust=None, shoulder=None))


def test_an_unknown_measurement_is_refused() -> None:
    """With the nearest known id where one is near, else with all of them."""
    assert refusal_of(changed(busst=880.0)) == "“busst” is not a measurement: “bust” may be meant."
    assert "known are bust, high_bust" in refusal_of(changed(qqq=1.0))


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_a_measurement_that_is_no_number_is_refused(value: float) -> None:
    """NaN and infinity are named with the measurement."""
    assert refusal_of(changed(waist=value)) == "The waist is not a number: measure it again."


def test_a_measurement_out_of_range_is_refused_in_the_users_unit() -> None:
    """A slip of the decimal point: 88.9 mm instead of cm."""
    assert refusal_of(changed(bust=88.9)) == (
        "A bust of 8.89 cm is not believable (60.0 cm to 170.0 cm is): check the number and its unit."
    )
    assert "25 in" not in refusal_of(changed(shoulder_slope_deg=60.0))
    assert "A shoulder slope of 60.0 degrees is not believable (5.0 degrees to 45.0" in refusal_of(
        changed(shoulder_slope_deg=60.0)
    )


@pytest.mark.parametrize(
    ("values", "first", "second"),
    [
        ({"bust": 760.0, "under_bust": 755.0, "high_bust": 760.0}, "bust", "under-bust"),
        ({"bust": 1230.0}, "bust", "high bust"),
        ({"high_bust": 700.0, "under_bust": 770.0, "bust": 790.0}, "high bust", "under-bust"),
        ({"waist": 1050.0}, "bust", "waist"),
        ({"waist": 1030.0, "under_bust": 720.0}, "under-bust", "waist"),
        ({"hip": 700.0, "waist": 860.0}, "hip", "waist"),
        ({"bust_span": 290.0}, "bust span", "bust"),
        ({"across_front": 215.0, "bust_span": 200.0}, "across front", "bust span"),
        ({"across_front": 500.0, "across_back": 320.0, "bust_span": 230.0}, "across back", "across front"),
        ({"neck_to_bust_point": 345.0}, "front waist length", "side neck to bust point"),
        ({"centre_front_length": 360.0}, "front waist length", "centre front length"),
        ({"back_waist_length": 450.0, "centre_front_length": 340.0}, "front waist length", "back waist length"),
        ({"scye_depth": 299.0, "back_waist_length": 350.0}, "back waist length", "armhole depth"),
        ({"scye_girth": 600.0}, "armhole girth", "bust"),
        ({"shoulder_point_to_bust_point": 440.0}, "shoulder point to bust point", "side neck to bust point"),
        ({"upper_bust_level": 262.0}, "side neck to bust point", "upper bust level"),
        ({"under_bust_level": 260.0}, "under-bust level", "side neck to bust point"),
        ({"under_bust_level": 356.0}, "front waist length", "under-bust level"),
        ({"stature": 2190.0, "back_waist_length": 340.0}, "back waist length", "height"),
    ],
)
def test_two_measurements_that_contradict_each_other_are_both_named(
    values: dict[str, float], first: str, second: str
) -> None:
    """One sentence names the pair with their values, says what is believable, and what to do."""
    sentence = refusal_of(changed(**values))
    assert sentence.startswith(f"The {first} (")
    assert f" and the {second} (" in sentence
    assert ") contradict each other: " in sentence
    assert sentence.endswith(", so measure both again.")


def test_a_contradiction_is_said_in_plain_words() -> None:
    """The whole sentence, once, in inches; an estimated value is marked as such."""
    body = changed(neck_to_bust_point=345.0)
    inches = msgspec.structs.replace(body, units="in")
    assert refusal_of(inches) == (
        "The front waist length (14 1/16 in) and the side neck to bust point (13 19/32 in) contradict each other: the "
        "front waist length is 1 3/16 in to 12 19/32 in more than the side neck to bust point, so measure both again."
    )
    wide = changed(across_back=340.0, bust_span=300.0, bust=1000.0)
    assert refusal_of(wide).startswith("The across front (31.6 cm, estimated) and the bust span (30.0 cm) contradict")


def test_every_relation_names_two_measurements_of_the_table() -> None:
    """No relation is between a measurement and itself, and none is listed twice."""
    pairs = [(relation.first, relation.second) for relation in RELATIONS]
    assert len({frozenset(pair) for pair in pairs}) == len(pairs)
    assert all(first in MEASUREMENTS and second in MEASUREMENTS and first != second for first, second in pairs)


# --------------------------------------------------------------------------------------------------------------
# the body file


def body_file(**fields: object) -> str:
    """A sound body file in inches, with fields replaced."""
    sound: dict[str, object] = {
        "name": "Ottilie",
        "units": "in",
        "measurements": {"bust": 34.5, "shoulder_slope_deg": 22},
    }
    return json.dumps({**sound, **fields})


def test_a_body_file_is_converted_to_millimetres() -> None:
    """34 1/2 in is 876.3 mm; degrees stay degrees; the units are remembered."""
    body = read_body(body_file())
    assert body.name == "Ottilie"
    assert body.units == "in"
    assert body.measurements == {"bust": pytest.approx(876.3, abs=1e-9), "shoulder_slope_deg": 22.0}


def test_a_body_file_may_begin_with_a_byte_order_mark() -> None:
    """Some editors write one."""
    assert read_body("\ufeff" + body_file()).name == "Ottilie"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is not JSON: line 1 cannot be read"),
        ('{"name": "x",\n "units" "cm"}', "is not JSON: line 2 cannot be read"),
        ("[1, 2]", "does not describe a body"),
        ("null", "does not describe a body"),
        ("[" * 50_000, "nested too deeply"),
        (" " * 100_001, "far too long"),
        ('{"name":"x","name":"y","units":"cm","measurements":{}}', "gives “name” twice"),
        ('{"name":"x","units":"cm","measurements":{"bust":88,"bust":89}}', "gives “bust” twice"),
        ('{"name":"x","units":"cm","measurements":{"bust":NaN}}', "holds NaN, which is not a number"),
        ('{"name":"x","units":"cm","measurements":{"bust":-Infinity}}', "holds -Infinity, which is not a number"),
        ('{"name":"x","units":"cm","measurements":{"bust":1e999}}', "The bust of the body file is not a number"),
        (body_file(measurements={"bust": "88"}), "The bust of the body file is not a number"),
        (body_file(measurements={"bust": True}), "The bust of the body file is not a number"),
        (body_file(measurements={"bust": None}), "The bust of the body file is not a number"),
        (body_file(measurements={"bust": [88]}), "The bust of the body file is not a number"),
        (body_file(measurements={"busst": 88}), "“busst” is not a measurement: “bust” may be meant"),
        (body_file(measurements=[88]), "no list of names and numbers"),
        (body_file(units="ft"), "units of the body file are not known"),
        (body_file(units=["cm"]), "units of the body file are not known"),
        (body_file(name=7), "is not one line of text"),
        (body_file(name="two\nlines"), "is not one line of text"),
        (body_file(name="\ud800"), "is not one line of text"),
        (body_file(name="x" * 201), "is not one line of text"),
        (body_file(hat=1), "unknown field “hat”"),
        ('{"name":"x","units":"cm"}', "has no “measurements”"),
    ],
)
def test_a_body_file_that_is_none_is_refused_in_one_sentence(text: str, words: str) -> None:
    """What is wrong is said; nothing is guessed."""
    with pytest.raises(Refusal) as refusal:
        read_body(text)
    assert words in refusal.value.sentence
    assert refusal.value.sentence.endswith(".")
    assert "\n" not in refusal.value.sentence


@given(st.text(max_size=60) | st.recursive(st.none() | st.floats() | st.text(max_size=5), st.lists).map(json.dumps))
def test_text_that_describes_no_body_is_always_refused(text: str) -> None:
    """No text brings the reader down with anything but a sentence."""
    with pytest.raises(Refusal):
        read_body(text)


@given(st.sampled_from(("mm", "cm", "in")), st.floats(1, 2000, allow_nan=False))
def test_numbers_typed_come_back_from_the_units_they_were_typed_in(units: Unit, number: float) -> None:
    """mm / (mm per unit) is the typed number again, to float64's last digits."""
    per = {"mm": 1.0, "cm": 10.0, "in": 25.4}[units]
    assert entered("x", units, {"bust": number}).measurements["bust"] / per == pytest.approx(number, rel=1e-15)


def test_a_body_survives_the_document() -> None:
    """Encoded as JSON and decoded, it is the same record; unknown fields are refused."""
    body = extreme_body()
    assert msgspec.json.decode(msgspec.json.encode(body), type=Body) == body
    with pytest.raises(msgspec.ValidationError):
        msgspec.json.decode(b'{"name":"x","units":"cm","measurements":{},"hat":1}', type=Body)
