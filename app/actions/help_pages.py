"""The pages of the Help menu. The list of keys is made from the tables of actions, so it cannot be stale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QWidget

from app.actions.info import ActionInfo, MenuInfo
from core.shipped import version

ON_THE_TABLE: Final = (
    ("Go from handle to handle", "Tab, Shift+Tab"),
    ("Move the handle by 1 mm, 10 mm, 0.1 mm", "Arrows, Shift+Arrows, Alt+Arrows"),
    ("Choose the handle, as a click does", "Enter or Space"),
    ("Remove the point", "Delete"),
    ("Drop what is under way, then lay the tool down", "Esc"),
    ("Fold the dart under the pointer shut, too; elsewhere on the piece, open all", "F"),
    ("Roll pieces that are laid together along their seam, to its ends", "Arrows, Home and End"),
    ("Let them meet at the other end, turn the other piece", "E, X"),
    ("While a line would step at a seam: lay the pieces together where it crosses", "A"),
    ("Hold back snapping while dragging", "Alt"),
    ("Move the table", "Middle button, or Space and drag"),
    ("Scroll, scroll sideways", "Wheel, Shift+Wheel"),
    ("Nearer or farther at the pointer", "Ctrl+Wheel"),
)
"""What the table itself listens to; it is no action and so stands here."""

SAFETY: Final = (
    ("Blades", "Rotary cutters and shears cut fingers too: cut away from you, and close the blade when it is down."),
    ("Pins and needles", "Count them out and back in, keep none in the mouth, search a bodice before it is fitted."),
    ("Needles on bone", "A needle that strikes boning breaks: wear eye protection when you sew over it."),
    (
        "Irons and net",
        "Nylon net and mesh melt, stick and burn at heats that satin takes: try a scrap first, under a press cloth.",
    ),
    ("Flame", "Sheer net and tulle can flare up. Keep gown and scraps from candles, hobs, heaters and stage fire."),
    (
        "Boning and wires",
        "Steel and plastic ends hurt skin: cap them, end them 6 mm (1/4 in) or more before an edge at the skin.",
    ),
    ("A firm bodice", "She must be able to take a full breath in it: measure and fit her sitting and breathing out."),
    (
        "Glue and tape on skin",
        "Try tape, spray and glue on a small place first; air the room; none on broken skin.",
    ),
    ("Raw net", "Cut edges of net scratch: bind or turn them where they touch skin."),
    ("Strain", "A sheer panel that carries weight can tear at its seams. Fit on her before it is worn in public."),
    (
        "What counts",
        "This program knows neither your cloth nor your tools. Maker's labels and the rules where you work come first.",
    ),
)


PROMISE: Final = (
    ("Saving", "A save happens whole, or the old file stays. The version before is kept beside it as NAME.sheer~."),
    (
        "A crash or a power cut",
        "Costs at most the last 30 seconds, and what a dialog held before its OK: the next start offers the rest.",
    ),
    ("Later versions", "Every file ever written opens in later versions, and none is altered by being opened."),
    ("Newer files", "A file of a newer version is shown where all of it is understood, and never written over."),
    (
        "Damage",
        "Nothing is repaired in silence: a damaged or altered file is refused in a sentence, and left as it is.",
    ),
    ("Two at one file", "Who opens a file that is open already is told so, and nobody's work is written over unasked."),
    ("Files from others", "No file can run anything, open another one or reach the network: it is lines and numbers."),
)
"""What is held about her files; each sentence is held by tests of core/file and of the window."""


THE_FORM: Final = (
    (
        "What it is",
        (
            "A figure made from her tape, the block laid on it. Choose beside it what no tape tells: where the breast "
            "is fuller, how pointed it is, how she stands: it is kept with her measurements. The tone is only how the "
            "form is shown; a pale one wears dark cloth, so that both can be told."
        ),
    ),
    (
        "Too much, too little",
        (
            "Along the sheer line the edge is longer or shorter than she is under it. 12 ± 8 mm means: 4 to 20, "
            "as a rule; farther than 90 mm from the bust point less is known. Nothing is said within 40 mm of the "
            "armhole, as the form has no arms."
        ),
    ),
    (
        "The edge",
        (
            "One that lies close wants no ease. One that keeps the block's ease has that much less too much. One that "
            "follows the hollow between the busts has the most."
        ),
    ),
    (
        "Contour",
        (
            "What there is too much is taken in along the panel seam under the line, to nothing at the bust point, "
            "and the sheer loses as much. Read the lengths before and after, then press Take it in; undo takes it back."
        ),
    ),
    (
        "The cup",
        "How many degrees the breast wants taken out at the cup's rim, and how many its seams take out.",
    ),
    (
        "From the bust point",
        (
            "Block beside body to each landmark, the block's ease taken off. What is long or short there is a slip in "
            "a measurement or in the block, or a figure that the form knows too little."
        ),
    ),
    (
        "Two lines compared",
        (
            "Keep this line to compare holds the design as it is; what you make of it then stands beside it, numbers "
            "too. Any file can be compared as well: its line is laid on this client."
        ),
    ),
    (
        "Colours of the edge",
        "Each has a pattern too, told under the form: whole lies close, broken and dotted stand off, dash-dot pulls.",
    ),
    (
        "The back",
        "Its cloth and line are laid by the landmarks, the darts not folded: look at it, and measure nothing there.",
    ),
    (
        "What it does not know",
        (
            "The shape of her breast, how soft it is, what she wears under the bodice, a left that differs from the "
            "right, how the cloth gives. A breast that hangs gapes more than is said. An estimate: check it on a toile."
        ),
    ),
)
"""How the form is read; its numbers and limits stand in DEVELOPERS.md."""


def key_sections(menus: Sequence[MenuInfo]) -> list[tuple[str, list[tuple[str, str]]]]:
    """For each menu the actions that have keys, and the keys as the desktop writes them; then those of the table."""
    sections = []
    for menu in menus:
        rows = [(info.plain_text, _written(info)) for info in menu.actions() if info.shortcuts()]
        sections.append((menu.text.replace("&", ""), rows))
    return [*sections, ("On the cutting table", list(ON_THE_TABLE))]


def _written(info: ActionInfo) -> str:
    names = [key.toString(QKeySequence.SequenceFormat.NativeText) for key in info.shortcuts()]
    # Some keyboards have a key for Open or Undo alone, with the word on it: listed here it would read as a riddle.
    return ", ".join(name for name in names if len(name) == 1 or not name.replace(" ", "").isalpha())


def _show(parent: QWidget, title: str, text: tuple[str, Sequence[tuple[str, str]]]) -> None:
    from app.dialogs.reading import sentences_page, show_page

    show_page(parent, title, sentences_page(*text))


def keys(parent: QWidget, menus: Sequence[MenuInfo]) -> None:
    """Show every key."""
    from app.dialogs.reading import keys_page, show_page

    show_page(parent, "Keys", keys_page(key_sections(menus)))


def safety(parent: QWidget) -> None:
    """Show what to beware of."""
    _show(parent, "Safety", ("Before you cut, press and fit", SAFETY))


def promise(parent: QWidget) -> None:
    """Show what is promised about her files."""
    _show(parent, "Your files", ("What you may rely on", PROMISE))


def the_form(parent: QWidget) -> None:
    """Show how the form is read."""
    _show(parent, "Reading the form", ("How the form is read", THE_FORM))


def about(parent: QWidget) -> None:
    """Show what this is."""
    rows = (
        (
            f"Sheerwright {version()}",
            "Drafts, cuts, matches and prints the pieces of an illusion neckline",
        ),
        ("Licence", "MIT; the text is shipped with the program. Qt is used under the LGPL"),
        ("Your work", "Designs stay on this machine; the program opens no connection"),
    )
    _show(parent, "About Sheerwright", ("About", rows))
