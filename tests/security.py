"""What a file from somebody else must never lead to, and the tests that prove each; what is not proved says why.

The list is common practice for programs that open files from others (no source). A test is named by its file under
tests/ and its function; `tests/core/test_security.py` fails for one that is not there any more.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Danger:
    """One way in, shut. `tests` prove it; `open` says what they leave open."""

    number: int
    words: str
    tests: tuple[str, ...]
    open: str = ""


def _all(file: str, *names: str) -> tuple[str, ...]:
    return tuple(f"{file}::{name}" for name in names)


ONLY_DATA: Final = "core/test_only_data.py"
GATES: Final = "core/file/test_gates.py"
READER: Final = "core/file/test_reader.py"
SCRIPTS: Final = "core/outputs/test_any_script.py"
HERE: Final = "core/test_security.py"

DANGERS: Final = (
    Danger(
        1,
        "Nothing makes code out of data, and settings hold texts and bytes only.",
        _all(
            ONLY_DATA,
            "test_nothing_runs_what_it_reads_or_reaches_out",
            "test_nothing_is_evaluated_started_or_unpacked",
            "test_settings_are_read_as_texts_and_bytes",
            "test_the_search_finds_what_it_must",
        ),
    ),
    Danger(
        2,
        "What is typed into a field is read by an own small parser, which ends in a finite length or a refusal.",
        _all(
            "core/test_units.py",
            "test_any_text_gives_a_finite_length_or_a_refusal",
            "test_a_length_beyond_any_garment_is_refused",
        ),
    ),
    Danger(
        3,
        "Sizes, depth, counts and the kind of file are bounded before anything is parsed.",
        _all(GATES, "test_a_gate_shuts_at_its_limit_and_not_before")
        + _all(GATES, "test_no_more_of_a_file_is_read_than_is_asked_for")
        + _all(READER, "test_folders_pipes_and_devices_are_refused_at_once"),
    ),
    Danger(
        4,
        "No file takes long: the worst known is refused in time, and points and steps are bounded.",
        _all(READER, "test_hostile_files_cost_neither_much_time_nor_memory")
        + _all("core/file/test_altered_designs.py", "test_an_altered_design_is_refused_or_replays"),
        open="that the most steps let in are worked out in two seconds is measured by hand (safety benchmark)",
    ),
    Danger(
        5,
        "A picture is told by its first bytes, and its size is known before a pixel of it is unpacked.",
        _all("app/canvas/test_underlay.py", "test_only_two_kinds_of_picture_are_read", "test_a_picture_bomb_is_refused")
        + _all("app/test_window_hostile_text.py", "test_only_regular_files_are_taken_for_pictures"),
    ),
    Danger(6, "No SVG is drawn.", _all(ONLY_DATA, "test_nothing_runs_what_it_reads_or_reaches_out")),
    Danger(
        7,
        "Text from a file that looks like markup is shown as it stands.",
        _all(
            "app/test_window_hostile_text.py",
            "test_a_design_full_of_markup_is_shown_as_it_stands",
            "test_the_search_finds_markup",
        ),
    ),
    Danger(
        8,
        "Text on pages is drawn and never read as markup; signs that are obeyed are left out.",
        _all(ONLY_DATA, "test_pages_take_text_by_drawing_it")
        + _all(SCRIPTS, "test_pdf_shows_a_stand_in", "test_svg_keeps_every_letter_and_is_xml"),
    ),
    Danger(
        9,
        "A design holds no path; what is kept beside it is for its owner only.",
        _all(HERE, "test_a_design_has_no_place_for_a_path")
        + _all("core/file/test_recovery.py", "test_a_copy_knows_its_file_and_goes_without_a_trace")
        + _all("core/file/test_writer.py", "test_permissions_are_kept"),
    ),
    Danger(
        10,
        "Nothing reaches the network, opens an address or loads a plug-in.",
        _all(ONLY_DATA, "test_nothing_runs_what_it_reads_or_reaches_out"),
    ),
    Danger(
        11,
        "What is dropped, or given on the command line, is read as a file; the clipboard is only written.",
        _all(HERE, "test_the_clipboard_is_never_read")
        + _all("app/test_window_files.py", "test_a_dropped_design_is_opened"),
        open="Qt's own fields take pasted text of any length; what is kept of it goes through the gates as it is saved",
    ),
    Danger(
        12,
        "Signs that turn the writing round, or are not seen, are written out wherever a file has them.",
        _all(READER, "test_a_name_cannot_break_the_sentence")
        + _all(
            "core/file/test_legible.py",
            "test_a_sign_that_is_not_seen_is_written_out",
            "test_every_sign_of_the_two_categories_is_known",
            "test_names_are_read_with_such_signs_written_out_and_the_file_keeps_them",
        )
        + _all("app/test_window_hostile_text.py", "test_signs_that_turn_the_writing_round_are_written_out")
        + _all(SCRIPTS, "test_pdf_shows_a_stand_in"),
        open="what she types or pastes herself is written out once it has been saved and opened",
    ),
    Danger(
        13,
        "The log holds neither measurements nor names; a fault's details are shown before they are shared.",
        _all(
            "app/test_window_faults.py",
            "test_the_log_holds_neither_measurements_nor_names",
            "test_a_fault_is_said_once_and_its_details_are_copied",
        ),
    ),
    Danger(
        14,
        "The tests run with pinned versions of everything, and pictures never meet the library that unpacks them.",
        _all(HERE, "test_every_package_is_pinned", "test_no_picture_is_given_to_pillow"),
        open="no hashes are kept, and no database of known faults can be asked",
    ),
)
