"""The gates before a design, each at its own limit: what just passes, and what is one too much."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.file.gates import (
    DEEPEST,
    LARGEST_FILE,
    LARGEST_NUMBER,
    LONGEST_IMAGE,
    LONGEST_NUMBER,
    LONGEST_TEXT,
    MOST_ENTRIES,
    MOST_MARKS,
    Unfit,
    parsed,
    read_bytes,
)


def shut(data: bytes) -> str:
    """Half a sentence with which bytes are turned away, "" where they pass."""
    try:
        parsed(data)
    except Unfit as unfit:
        return str(unfit)
    return ""


def test_plain_values_pass_as_they_are() -> None:
    """Everything that JSON knows (RFC 8259), nothing among it."""
    assert parsed(b' {"a": [null, true, false, 1, -2.5, "\\u00e9", {}]} ') == {
        "a": [None, True, False, 1, -2.5, "é", {}]
    }
    assert type(parsed(b"3")) is int
    assert type(parsed(b"3.0")) is float


def ones(count: int) -> bytes:
    """A list of so many numbers."""
    return b"[" + b"1," * (count - 1) + b"1]"


def text(count: int) -> bytes:
    """A text of so many letters."""
    return b'"' + b"a" * count + b'"'


def marks(count: int) -> bytes:
    """101 texts of commas, with so many quotes, commas and brackets in all."""
    texts = b"[" + b",".join([b'"' + b"," * 9_990 + b'"'] * 100)
    return texts + b',"' + b"," * (count - 1 - 100 * 9_992 - 99 - 3) + b'"]'


@pytest.mark.parametrize(
    ("most", "one_more", "words"),
    [
        (b"1" + b" " * (LARGEST_FILE - 1), b"1" + b" " * LARGEST_FILE, "it is larger than 10 MiB, which no design is"),
        (b"[" * DEEPEST + b"]" * DEEPEST, b'{"a":' * 65 + b"1" + b"}" * 65, "it is nested more than 64 deep"),
        (marks(MOST_MARKS), marks(MOST_MARKS + 1), "it holds far more than a design can"),
        (
            ones(MOST_ENTRIES),
            ones(MOST_ENTRIES + 1),
            "a list of 2001 entries, more than the 2000 that a design may have",
        ),
        (
            b'{"points":' + ones(500) + b"}",
            b'{"points":' + ones(501) + b"}",
            "it is too complex: 501 points in one list",
        ),
        (
            b'{"steps":' + ones(500) + b"}",
            b'[{"steps":' + ones(501) + b"}]",
            "too complex: 501 steps in one list, where 500",
        ),
        (text(LONGEST_TEXT), text(LONGEST_TEXT + 1), "it holds a text of 10001 characters, more than the 10000 that"),
        (b"{" + text(LONGEST_TEXT) + b":1}", b"{" + text(LONGEST_TEXT + 1) + b":1}", "it holds a text of 10001"),
        (
            b'{"image":' + text(LONGEST_IMAGE) + b"}",
            b'{"image":' + text(LONGEST_IMAGE + 1) + b"}",
            "holds a picture that",
        ),
        (b'{"image":"AA=="}', b'{"image":"AA==="}', "it holds a picture that is too large or damaged"),
        (b'{"image":1}', b'{"image":["\\u0000"]}', "a character that is none"),
        (b"0." + b"1" * (LONGEST_NUMBER - 2), b"0." + b"1" * (LONGEST_NUMBER - 1), f"0.{'1' * 37}…, and nothing"),
        (b"10000", b"10001", "it holds the number 10001, and nothing in a garment is over 10 m"),
        (b"[-10000.0]", b"[-10000.5]", "it holds the number -10000.5, and nothing"),
        (b'{"lays":[10001]}', b'{"lays":{"a":10001}}', "it holds the number 10001, and nothing"),
        (b'{"a":1,"b":1}', b'{"z":1,"a":1,"b":1,"b":2,"a":1}', "it gives “a” twice in one place"),
        (b"{" + text(41) + b":1}", b"{" + text(41) + b":1," + text(41) + b":1}", f"gives “{'a' * 39}…” twice"),
        (b"{" + text(40) + b":1}", b"{" + text(40) + b":1," + text(40) + b":1}", f"gives “{'a' * 40}” twice"),
        (b'{"a\\n":1,"a":1}', b'{"a\\n":1,"a\\n":1}', "it gives “a?” twice"),
        (b'"\\ud83d\\ude00"', b'"\\ud83d"', "it holds a character that is none (a zero, or half of a surrogate pair)"),
        (b'"\\u0001"', b'"\\u0000"', "it holds a character that is none (a zero, or half of a surrogate pair)"),
        (b"[1]", b"[Infinity]", "it holds Infinity, which is not a number"),
        (b"[1]\n\n", b"[1]\n\n]", "it is cut short or damaged at line 3"),
        (b'"a\xc3\xa9"', b'"a\xc3"', "it is not UTF-8 text (byte 2 cannot be read)"),
        (b'"\\\\"', b'"\\"', "it is cut short or damaged at line 1"),
        (b" 1", b"\xff\xfe1", "it begins with a byte order mark, so another program wrote it"),
        (b"1", b"", "it is empty"),
        (b"1", b"1\0", "it holds zero bytes, so it is damaged or no text"),
    ],
    ids=range(28),
)
def test_a_gate_shuts_at_its_limit_and_not_before(most: bytes, one_more: bytes, words: str) -> None:
    """The most that passes, and one more, which is turned away in these words."""
    assert shut(most) == ""
    assert words in shut(one_more)


def test_a_number_of_ten_metres_is_the_largest() -> None:
    """The size of everything in a garment, in mm."""
    assert LARGEST_NUMBER == 10_000.0


def test_no_more_of_a_file_is_read_than_is_asked_for(tmp_path: Path) -> None:
    """One byte beyond the largest design if nothing else is said: enough to see that it is too large."""
    path = tmp_path / "long"
    path.write_bytes(b"a" * (LARGEST_FILE + 10))
    assert read_bytes(path, 7) == b"a" * 7
    assert len(read_bytes(path)) == LARGEST_FILE + 1
    with pytest.raises(Unfit, match=r"^it is a folder or a device and not a file$"):
        read_bytes(tmp_path)
