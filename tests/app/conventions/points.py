"""The points by which a window is judged here, and the tests that prove each; what is not proved says why.

They were gathered from WCAG 2.2 applied to software, the guidelines of desktops, and what Qt does. A test is named by
its file under tests/ and its function; `test_points.py` fails for one that is not there any more.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Convention:
    """One point. `tests` prove it; where there are none, `why` says why not, and otherwise what they leave out."""

    number: int
    words: str
    tests: tuple[str, ...] = ()
    why: str = ""


def _all(file: str, *names: str) -> tuple[str, ...]:
    return tuple(f"{file}::{name}" for name in names)


EDIT_LINE: Final = "app/tools/test_edit_line.py"
DRAW_LINE: Final = "app/tools/test_draw_line.py"
TABLE: Final = "app/canvas/test_table.py"
ACTIONS: Final = "app/test_window_actions.py"
IN_SIGHT: Final = "app/test_window_in_sight.py"
FILES: Final = "app/test_window_files.py"
STEPS: Final = "app/panels/test_steps.py"
HERE: Final = "app/conventions"

CONVENTIONS: Final = (
    Convention(
        1,
        "A drag moves a handle, a click never nudges it.",
        _all(EDIT_LINE, "test_dragging_a_point_moves_panels_live_and_commits_once", "test_a_click_never_nudges"),
    ),
    Convention(
        2,
        "What a drag does is kept when the button goes up; Esc restores what was.",
        _all(
            EDIT_LINE,
            "test_the_release_counts_even_without_a_move_there",
            "test_esc_in_the_middle_of_a_drag_restores_exactly",
        ),
    ),
    Convention(
        3,
        "Letting go outside ends a drag; losing the window cancels it.",
        _all(
            f"{HERE}/test_pointer.py",
            "test_letting_go_outside_the_window_ends_the_drag",
            "test_a_drag_that_loses_the_window_is_dropped",
        ),
    ),
    Convention(
        4,
        "Every drag has a way by clicks alone.",
        (
            *_all(EDIT_LINE, "test_a_point_can_be_moved_by_two_clicks"),
            "app/tools/test_take_in.py::test_an_amount_is_typed_at_a_pin",
            "app/tools/test_pivot.py::test_three_clicks_pivot_a_dart_into_another",
        ),
    ),
    Convention(
        5,
        "Every drag has a way by keys: Tab, arrows by 1 mm, 10 mm, 0.1 mm.",
        (
            *_all(EDIT_LINE, "test_arrow_keys_move_a_point_by_exact_steps_and_taps_join"),
            "app/tools/test_pivot.py::test_by_keys_alone",
            "app/test_journey_by_keys.py::test_from_a_new_client_to_her_pages_by_keys_alone",
        ),
    ),
    Convention(
        6,
        "A handle is hit within 24 pixels, the nearest first.",
        (
            "app/canvas/test_hits.py::test_the_nearest_target_wins",
            *_all(TABLE, "test_handles_are_widgets_that_say_where_they_are"),
        ),
    ),
    Convention(
        7,
        "A finger hits within 40 pixels.",
        _all(f"{HERE}/test_pointer.py", "test_a_finger_reaches_farther_than_a_mouse"),
    ),
    Convention(
        8,
        "Ctrl and the wheel, or a pinch, zoom about the pointer.",
        (
            *_all(TABLE, "test_ctrl_and_wheel_zoom_about_the_pointer"),
            f"{HERE}/test_pointer.py::test_a_pinch_zooms_about_the_fingers",
        ),
    ),
    Convention(
        9,
        "The wheel scrolls, with Shift sideways.",
        _all(TABLE, "test_the_wheel_alone_scrolls_and_with_shift_sideways"),
    ),
    Convention(
        10,
        "The middle button, or Space, pans and changes nothing.",
        _all(TABLE, "test_the_middle_button_pans_and_changes_nothing", "test_space_and_left_button_pan"),
    ),
    Convention(
        11,
        "The zoom has ends; fitting and true size are the same when done twice.",
        (
            "app/canvas/test_view.py::test_zoom_is_clamped",
            "app/canvas/test_view.py::test_fitting_shows_the_whole_box_and_is_idempotent",
            *_all(ACTIONS, "test_zoom_keys"),
        ),
    ),
    Convention(
        12,
        "Snapping is seen and named, reaches as many pixels at any zoom, and rests while Alt is held.",
        (
            *_all(DRAW_LINE, "test_a_landmark_is_snapped_to", "test_alt_suspends_snapping"),
            f"{HERE}/test_pointer.py::test_snapping_reaches_as_many_pixels_at_any_zoom",
        ),
    ),
    Convention(
        13,
        "Hovering shows what a press would take.",
        (
            "app/tools/test_pick_tools.py::test_hovering_says_what_a_click_would_do",
            f"{HERE}/test_pointer.py::test_the_cursor_says_what_the_hand_is_at",
        ),
    ),
    Convention(
        14,
        "Nothing is done by a double click or a context menu alone.",
        _all(
            f"{HERE}/test_pointer.py",
            "test_what_a_double_click_does_a_key_does_too",
            "test_there_is_no_menu_that_only_a_right_click_opens",
        ),
    ),
    Convention(
        15,
        "A quick second click makes no second point.",
        _all(DRAW_LINE, "test_a_double_click_ends_the_line_at_its_place"),
    ),
    Convention(
        16,
        "The desktop's own keys, all of them.",
        (
            f"{HERE}/test_keys.py::test_the_desktops_own_keys_are_taken",
            *_all(ACTIONS, "test_the_keys_that_every_desktop_has"),
        ),
    ),
    Convention(
        17,
        "Ctrl+Shift+Z and Ctrl+Y both redo.",
        _all(FILES, "test_undo_and_redo_name_the_act_and_mark_the_window"),
    ),
    Convention(
        18,
        "Ctrl+= zooms in, Ctrl+0 fits, Ctrl+1 is true size.",
        _all(ACTIONS, "test_the_keys_that_every_desktop_has", "test_zoom_keys"),
    ),
    Convention(
        19, "No key with Alt and a letter, none with Super.", (f"{HERE}/test_keys.py::test_no_key_takes_an_access_key",)
    ),
    Convention(
        20,
        "Every row of a menu has an access key of its own.",
        _all(
            ACTIONS, "test_every_row_of_a_menu_has_an_access_key_of_its_own", "test_access_keys_are_found_for_any_names"
        ),
    ),
    Convention(
        21,
        "Tab goes everywhere and is caught nowhere.",
        (f"{HERE}/test_keys.py::test_tab_goes_through_the_whole_window_and_comes_back",),
    ),
    Convention(
        22,
        "What has the keyboard is seen, at 3:1.",
        _all(
            f"{HERE}/test_seeing.py",
            "test_the_ring_of_the_keyboard_stands_out",
            "test_the_handle_that_has_the_keyboard_is_ringed",
        ),
    ),
    Convention(
        23,
        "The list of keys is made from the actions.",
        _all(ACTIONS, "test_the_list_of_keys_names_every_action_that_has_one"),
    ),
    Convention(
        24,
        "Keys of one letter rest while one types, and can be turned off.",
        _all(ACTIONS, "test_letters_typed_into_a_field_stay_letters", "test_keys_of_one_letter_can_be_turned_off"),
    ),
    Convention(
        25,
        "Whatever changes the design can be undone, and undo names it.",
        (
            *_all(FILES, "test_undo_and_redo_name_the_act_and_mark_the_window"),
            *_all(ACTIONS, "test_the_unit_is_an_act_and_every_part_follows"),
            "app/panels/test_measurements.py::test_ease_and_client_are_acts_too",
            "app/panels/test_piece.py::test_choosing_a_fabric_writes_it_on_the_tag_in_the_cut",
        ),
    ),
    Convention(
        26,
        "One drag, or taps in a row, are one act.",
        _all(
            EDIT_LINE,
            "test_dragging_a_point_moves_panels_live_and_commits_once",
            "test_arrow_keys_move_a_point_by_exact_steps_and_taps_join",
        ),
    ),
    Convention(
        27,
        "Undo rather than a question; a question only where nothing can be undone.",
        (
            *_all(STEPS, "test_what_can_no_longer_be_done_is_named"),
            "app/test_window_printing.py::test_a_typed_file_that_is_there_is_replaced_only_when_she_says_so",
        ),
    ),
    Convention(
        28,
        "Closing with unsaved work asks; an ending session keeps it.",
        _all(
            FILES,
            "test_closing_with_unsaved_work_asks_and_cancel_keeps_it",
            "test_closing_can_save_first",
        ),
    ),
    Convention(
        29,
        "The title has the file's name and whether it is changed.",
        (f"{HERE}/test_keys.py::test_the_title_names_the_design_and_marks_it_changed",),
    ),
    Convention(
        30,
        "Recent files, folder and window come back; a screen that is gone does not keep the window.",
        (
            *_all(IN_SIGHT, "test_the_window_is_as_it_was_left"),
            *_all(FILES, "test_recent_files_are_made_anew_whenever_their_menu_is_shown"),
            f"{HERE}/test_seeing.py::test_a_screen_that_is_gone_does_not_keep_the_window",
        ),
    ),
    Convention(
        31,
        "Settings and state lie where the desktop wants them.",
        ("app/test_settings.py::test_settings_and_state_lie_where_the_desktop_wants_them",),
    ),
    Convention(
        32,
        "A fault is a sentence without a trace, which can be copied.",
        ("app/test_window_faults.py::test_a_fault_is_said_once_and_its_details_are_copied",),
    ),
    Convention(
        33,
        "Text at 4.5:1, lines and handles at 3:1.",
        (
            "app/test_theme.py::test_text_stands_out_from_every_ground_it_is_written_on",
            "app/test_theme.py::test_the_palette_is_readable",
            f"{HERE}/test_seeing.py::test_lines_and_handles_stand_out_from_cloth_and_table",
        ),
    ),
    Convention(
        34,
        "Colour alone says nothing.",
        (
            "app/panels/test_seams.py::test_every_seam_has_a_row_with_sign_and_word",
            "app/panels/test_order.py::test_a_refused_step_is_marked_at_its_station",
        ),
    ),
    Convention(
        35,
        "A palette for eyes that see fewer colours.",
        (f"{HERE}/test_seeing.py::test_what_is_in_hand_is_told_from_what_is_chosen_without_red_or_green",),
        "The simulated eyes are one published matrix for each of three kinds.",
    ),
    Convention(
        36,
        "Light, dark and contrast follow the desktop, from one table of colours.",
        (
            f"{HERE}/test_seeing.py::test_the_colours_follow_the_desktop",
            *_all(ACTIONS, "test_a_theme_reaches_table_panels_and_the_next_start"),
        ),
    ),
    Convention(
        37,
        "Everything is there at twice the text, and with words longer by 40 %.",
        (
            *_all(IN_SIGHT, "test_no_tool_hides", "test_difference_and_verdict_stay_in_sight_at_twice_the_text"),
            f"{HERE}/test_seeing.py::test_at_twice_the_text_the_table_keeps_its_share_and_figures_are_whole",
            f"{HERE}/test_seeing.py::test_words_longer_by_two_fifths_still_fit",
        ),
    ),
    Convention(
        38,
        "Twice the pixels show the same, twice as fine.",
        (f"{HERE}/test_seeing.py::test_at_scale_2_everything_is_as_large_and_twice_as_fine",),
        "Scales of 1.25 and 1.5 were looked at, not tested.",
    ),
    Convention(39, "Nothing flashes or moves by itself.", (f"{HERE}/test_seeing.py::test_nothing_moves_by_itself",)),
    Convention(
        40,
        "The table and each handle have a name, the handle its place.",
        _all(TABLE, "test_handles_are_widgets_that_say_where_they_are", "test_pieces_and_lines_can_be_chosen_by_keys"),
        "Qt gives the table the role of a plain area: it has none for a drawing.",
    ),
    Convention(
        41,
        "What changes elsewhere is announced.",
        _all(
            "app/test_window_announcing.py",
            "test_an_act_and_its_undo_are_said",
            "test_a_seam_that_no_longer_matches_is_named",
            "test_what_cannot_be_done_is_said",
        ),
    ),
    Convention(
        42,
        "A table mirrors the drawing.",
        (
            "app/panels/test_seams.py::test_every_seam_has_a_row_with_sign_and_word",
            *_all(STEPS, "test_every_step_is_a_numbered_sentence_with_its_notes"),
            "app/panels/test_piece.py::test_a_piece_is_shown_with_number_fabric_edges_and_area",
        ),
    ),
    Convention(
        43,
        "Inches with fractions, cm, mm; the unit stands beside every number.",
        (
            "app/panels/test_measurements.py::test_a_typed_measurement_is_one_act_in_any_unit",
            "app/panels/test_piece.py::test_areas_are_shown_in_the_square_of_the_unit",
        ),
    ),
    Convention(
        44, "A pen works as a pointer.", why="No pen was at hand; Qt makes mouse events of one, which are tested."
    ),
    Convention(
        45,
        "Desktop file, MIME type, metainfo and icon.",
        why="They belong to a package for a distribution, and there is none yet; a wheel installs none of them.",
    ),
    Convention(
        46,
        "A file opens by its name; another kind of file gives a sentence; the same file twice is asked about.",
        (
            *_all(FILES, "test_a_file_that_is_no_design_is_refused_in_a_sentence_and_nothing_changes"),
            "app/test_window_one_file.py::test_a_file_that_is_open_elsewhere_is_asked_about",
        ),
    ),
)
