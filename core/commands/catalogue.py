"""The commands: what each is called, what it takes, and where it is done.

The parser and the help are made from this one table. A command's module is imported when the command is run: drafting
and printing stand on libraries that take half a second to import, which asking for help or opening a window need not
wait for (measured: help in 0.06 s instead of 0.6 s).
"""

# ruff: noqa: PLC0415 - see above
from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from pathlib import Path
from typing import Final

import msgspec


class Command(msgspec.Struct, frozen=True):
    """One subcommand. `run` gives the exit status: 0, or 1 where `check` found something; else it refuses."""

    name: str
    words: str
    declare: Callable[[ArgumentParser], None]
    run: Callable[[Namespace], int]


def _declare_draft(parser: ArgumentParser) -> None:
    _body(parser)
    parser.add_argument("--method", default="tape", metavar="NAME", help="the way of drafting (%(default)s)")
    _output(parser, "X.sheer", "the design to write")


def _draft(arguments: Namespace) -> int:
    from core.commands.draft import run

    return run(arguments)


def _declare_check(parser: ArgumentParser) -> None:
    _design(parser)
    parser.add_argument("--json", action="store_true", help="say it as JSON")


def _check(arguments: Namespace) -> int:
    from core.commands.check import run

    return run(arguments)


def _declare_pieces(parser: ArgumentParser) -> None:
    _design(parser)
    parser.add_argument("--json", required=True, type=Path, metavar="OUT", help="the file to write")
    parser.add_argument("--after", default="", metavar="STEP_ID", help="the pieces as they are after this step")


def _pieces(arguments: Namespace) -> int:
    from core.commands.pieces import run

    return run(arguments)


def _declare_print(parser: ArgumentParser) -> None:
    _design(parser)
    _output(parser, "OUT.pdf", "the pages to write")
    parser.add_argument(
        "--paper",
        default="",
        metavar="NAME",
        help="the paper (the design's own): a4, letter, a4-letter (fits both), legal, a3, tabloid, a2, a1, a0, "
        "roll-24in, roll-36in, roll-42in, or a roll of any width such as roll-900mm",
    )
    parser.add_argument("--scale", default="1", metavar="1|1/2|1/4", help="true size or a part of it (%(default)s)")
    parser.add_argument("--pieces", default="", metavar="1,2", help="these pieces only, by number or name")
    parser.add_argument("--no-allowances", action="store_true", help="stitching lines only, to add allowances by hand")
    parser.add_argument(
        "--without",
        action="append",
        default=[],
        metavar="LAYER",
        help="leave out guides or stitching lines; may be given twice",
    )
    parser.add_argument(
        "--measured",
        default="",
        metavar="ACROSS,UP",
        help="what the 100 mm square of a first print measured: the print makes up for it",
    )
    parser.add_argument("--json", type=Path, metavar="MAP", help="also write where each piece lies on which page")


def _print(arguments: Namespace) -> int:
    from core.commands.print_pages import run

    return run(arguments)


def _declare_export(parser: ArgumentParser) -> None:
    _design(parser)
    _output(parser, "OUT.svg|OUT.dxf", "the file to write, in the format that its name ends in")
    parser.add_argument("--pieces", default="", metavar="1,2", help="these pieces only, by number or name")
    parser.add_argument("--no-allowances", action="store_true", help="stitching lines only")


def _export(arguments: Namespace) -> int:
    from core.commands.export import run

    return run(arguments)


def _declare_sheets(parser: ArgumentParser) -> None:
    _design(parser)
    _output(parser, "OUT.pdf", "the sheet to write")
    parser.add_argument(
        "--kind",
        default="work",
        metavar="work|client",
        help="cutting list, materials, costs and making order, or the client's measurements and fitting (%(default)s)",
    )


def _sheets(arguments: Namespace) -> int:
    from core.commands.sheets import run

    return run(arguments)


def _declare_lesson(parser: ArgumentParser) -> None:
    _design(parser)
    _output(parser, "OUT.pdf", "the lesson to write; for OUT.svg or OUT.png a picture a step")


def _lesson(arguments: Namespace) -> int:
    from core.commands.lesson import run

    return run(arguments)


def _declare_redraft(parser: ArgumentParser) -> None:
    _design(parser)
    _body(parser)
    _output(parser, "OUT.sheer", "the design to write")


def _redraft(arguments: Namespace) -> int:
    from core.commands.redraft import run

    return run(arguments)


def _declare_demo(parser: ArgumentParser) -> None:
    _output(parser, "FOLDER", "the folder to copy the demo designs into")


def _demo(arguments: Namespace) -> int:
    from core.commands.demo import run

    return run(arguments)


def _declare_lay(parser: ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="saved designs, laid together")
    parser.add_argument("-o", dest="output", type=Path, metavar="OUT.pdf", help="also draw the plans, a page a fabric")
    parser.add_argument("--marker", type=Path, metavar="OUT.pdf", help="also draw the lays at true size, for a roll")
    parser.add_argument("--json", type=Path, metavar="OUT", help="also write where each piece lies")
    parser.add_argument("--seconds", default="", metavar="S", help="how long to try a fabric (3, more for many pieces)")


def _lay(arguments: Namespace) -> int:
    from core.commands.lay import run

    return run(arguments)


def _design(parser: ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="a saved design")


def _body(parser: ArgumentParser) -> None:
    words = "her measurements, or a design that is on her"
    parser.add_argument("--body", required=True, type=Path, metavar="BODY.json", help=words)


def _output(parser: ArgumentParser, metavar: str, words: str) -> None:
    parser.add_argument("-o", dest="output", required=True, type=Path, metavar=metavar, help=words)


COMMANDS: Final = (
    Command("draft", "draft a block from a client's measurements", _declare_draft, _draft),
    Command("check", "check seams, girths and outlines: exit 0 good, 1 look at it, 2 unusable", _declare_check, _check),
    Command("pieces", "write the pieces with all their points as JSON", _declare_pieces, _pieces),
    Command("print", "print the pieces at true size on pages to tape together", _declare_print, _print),
    Command("export", "write the pieces at true size for other programs, as SVG or DXF", _declare_export, _export),
    Command("sheets", "write the sheet for the workroom, or the one for the client", _declare_sheets, _sheets),
    Command("lesson", "write every step as a picture with its sentence, to hand out", _declare_lesson, _lesson),
    Command("redraft", "put a design on another client's body", _declare_redraft, _redraft),
    Command("lay", "lay the pieces out on each fabric, and say how much to buy", _declare_lay, _lay),
    Command("demo", "copy the demo designs into a folder", _declare_demo, _demo),
)
