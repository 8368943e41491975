"""How much the tests of files and geometry notice: `python -m tests.benchmarks.mutation [MODULE ...]`.

Every line of these modules is altered in turn, a comparison turned round, a number raised, an argument left out, and
the tests that reach it are run until one fails (`forked.py`). What no test notices survives; a survivor of a sort that
makes no difference is counted under its reason, any other is shown. Wants mutmut, which nothing else here does and the
lock leaves out: it is installed by hand. Two busy cores try about a mutant a second; a MODULE is `core.file.gates*`.
"""

from __future__ import annotations

import ast
import difflib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from tests.benchmarks.forked import SURVIVED

ROOT: Final = Path(__file__).resolve().parents[2]
COPIED: Final = ("app", "assets", "core", "tests", "README.md", "DEVELOPERS.md", "pyproject.toml")
SLOW: Final = (
    "killed_process",
    "hostile_files",
    "flipped_bit",
    "full_disk",
    "spliced",
    "cut_short",
    "altered_design",
    "law_of_allowances",
    "chords_leave_the_curve",
    "no_more_points",
)
"""Tests that take seconds each, or look at a process of their own."""
SETTINGS: Final = f"""
[tool.mutmut]
source_paths = ["core"]
only_mutate = ["core/file/*.py", "core/geometry/*.py"]
also_copy = ["app", "assets", "README.md", "DEVELOPERS.md"]
process_isolation = "forkserver"
use_git_change_detection = false
pytest_add_cli_args = [
  "-p", "no:randomly", "-p", "no:pytest-qt", "-p", "tests.without_qt", "--hypothesis-profile=mutants",
  "-k", "not {" and not ".join(SLOW)}",
]
pytest_add_cli_args_test_selection = ["tests/core/file", "tests/core/geometry"]
"""
FEW: Final = "core.file.migrations*"
"""The first that are tried: mutmut alters all and finds out which tests reach what before it tries any."""

EQUAL: Final = (
    ("an array is of float64 without being told so", r"dtype|\.view\(", r"float64|bool_|dtype"),
    ("a text that is shown has other letters about it: only its words are asked for", r"'|\"", r"XX"),
    ("the name of an encoding in other letters", r"'(UTF|utf)-8'", r"UTF"),
    ("shapes are only quicker when prepared", r"shapely\.prepare", r"None"),
    (
        "None stands for False",
        r"(ensure_ascii|allow_nan|keep_previous|closefd|written|writeable|at_stop) ?=",
        r"^False -> None$",
    ),
    ("NaN was turned away before", r"allow_nan", r""),
    ("of a whole file the head is looked at too", r"stated_schema\(read_bytes", r"LONGEST_HEAD"),
    ("the folder's bits are set by the next line", r"mkdir\(mode", r"448"),
    ("the words for a full disk hang on its number", r"ENOSPC, _FULL", r"_FULL -> None"),
    ("no place begins without a field, and no field lies in a text", r"last = ''|here = None", r"''"),
    ("no path follows where none was found", r"found\[1\]\) if found else", r"''"),
    ("the length of a random name", r"token_hex", r""),
    ("divided by one or minus one instead of multiplied", r"FLIP|\(-1\.0, 1\.0\)", r"^\* -> /$"),
    ("a fault of another number has the same words", r"OSError\(|_REASONS\.get", r"^(0|errno|'').* -> "),
    ("lengths that are the same to the last bit", r"core/geometry|_STALE", r"^[<>] -> [<>]=$|^[<>]= -> [<>]$"),
    (
        "how finely a pole, a round or a stroke is looked for",
        r"tolerance=|quad_segs|chord_error=0|segmentize|chords =",
        r"tolerance|quad_segs|chord_error|1\.0 -> (2\.0|None)|^1 -> 2$|^8 -> 9$|^32\.0 -> 33",
    ),
    ("how many rows there are numpy finds out", r"reshape\(-1", r"^1 -> 2$"),
    ("the words of an assertion", r"assert ", r"'"),
    ("two lists of one length", r"strict=True", r"strict|^True -> "),
    ("GEOS gives its rings clockwise", r"is_ccw", r"andFalse"),
    ("a place inside lies no farther off than any slack", r"~within & \(reach", r"^& -> \|$"),
    ("an equation multiplied through", r"shares = \[", r"^1\.0 -> 2\.0$"),
    (
        "there is nothing before the first equation, nothing after the last",
        r"rows|_before = |\[0\.0\]",
        r"^0\.0 -> 1\.0$",
    ),
    ("any two places of a straight fold lie on its line", r"fold\.points", r""),
    ("what is known is worked out once more", r"along is None|between\(points, a, b", r"orTrue|along -> (None)?$"),
    ("an end found at once is the one that is searched for", r"start <= 0\.0|stop >= along", r"andFalse"),
    ("every share of a segment without length is one place", r"step > 0\.0 else 0\.0", r"^0\.0 -> 1\.0$"),
    ("a stretch that would end beyond the last point ends there", r"len\(points\) - 1\]", r"^- -> \+$"),
    ("a wider look finds nothing more", r"_near\(second|clear_", r"^2 -> 3$|^\| -> &$"),
    ("an area is the same wherever its loop lies", r"loop\[0, 0\]", r""),
    ("a vertex that lies to the last bit at the slack", r"side='right'", r"side"),
    ("lying on the fold has one mark, whatever it is", r"np\.where", r"^0\.0 -> None$"),
    ("the axes of a cloud of places come with or without others", r"full_matrices", r"full_matrices|^False -> "),
    ("a place beyond the last is worked out and never read", r"range\(count \+ 1\)", r"^1 -> 2$"),
    ("a strip that is cut at a vertex is drawn whole or as a fan", r"searchsorted\(along, st", r"^- -> \+$|^\+ -> -$"),
    ("a fan goes over what a strip covers", r"_fan\(begin", r"^1 -> 2$"),
    ("a line is the same whichever way it runs", r"-leaving, second|corner \+ ahead", r"^- -> \+$|^\+ -> -$"),
    ("two mitred ends are passed over early or late", r"== \('mitred', 'mitred'\)", r"MITRED"),
    ("an end's line begins beside its own run, not on it", r"pair\[0\] > 1e-09", r"^0 -> 1$"),
    ("infinity in other letters", r"float\('inf'\)", r"INF"),
    ("a whole number so long is too large either way", r"int\(digits\) if", r"^<= -> <$"),
    ("what is too large for anything is refused after parsing too", r"isfinite\(number\) or", r"^or -> and$|^> -> >=$"),
    ("of a design that is not yet written nothing is said", r"plain: object = None", r""),
    ("the same design, read once more", r"legible == plain", r"andFalse"),
    ("a line drawn farther than to where it is met", r"1\.5 \* aside", r""),
    ("a run of no length is drawn or not", r"start > stop \+ 1e-09", r"^\+ -> -$"),
)
"""Why a mutant that survives makes no difference: in words, by what is on its line, and by what was altered there."""


def main() -> int:
    """Alter, run, and print a row a module and one for all."""
    if find_spec("mutmut") is None:
        sys.exit("This wants mutmut: python -m pip install mutmut")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for part in COPIED:
            copy = shutil.copytree if (ROOT / part).is_dir() else shutil.copy
            copy(ROOT / part, folder / part)
        with (folder / "pyproject.toml").open("a", encoding="utf-8") as project:
            project.write(SETTINGS)
        for command, cwd in (
            (["mutmut", "run", "--max-children", "2", FEW], folder),
            (["tests.benchmarks.forked", *(sys.argv[1:] or ["*"])], folder / "mutants"),
        ):
            whole = [sys.executable, "-m", *command]
            subprocess.run(whole, cwd=cwd, env={**os.environ, "CI": "true"}, check=True, stdout=subprocess.DEVNULL)
        report(folder / "mutants")
    return 0


def report(mutants: Path) -> None:
    """Print what became of the mutants in a folder that mutmut has left."""
    totals: Counter[str] = Counter()
    for outcomes in sorted((mutants / "core").rglob("*.meta")):
        found = Counter(kinds(outcomes))
        if found:
            totals += found
            print(f"{outcomes.relative_to(mutants).with_suffix('')} | {said(found)}", flush=True)
    print(f"| lines altered in `core/file` and `core/geometry` | {said(totals)} |")
    for words, count in totals.most_common():
        if words not in {"killed", "shown", "not tried"}:
            print(f"  no difference: {words} | {count}")


def said(found: Counter[str]) -> str:
    """The counts of one module, or of all, in a row's words."""
    tried = found.total() - found["not tried"]
    equal = tried - found["killed"] - found["shown"]
    return (
        f"{tried} of {found.total()} mutants tried: {found['killed']} found out, {equal} of sorts that make no "
        f"difference, {found['shown']} not found out"
    )


def kinds(outcomes: Path) -> Iterator[str]:
    """For every mutant of a module: killed, not tried, the reason why it makes no difference, or shown."""
    codes: dict[str, int | None] = json.loads(outcomes.read_text(encoding="utf-8"))["exit_code_by_key"]
    texts = functions(outcomes.with_suffix("")) if SURVIVED in codes.values() else {}
    for name, code in codes.items():
        if code is None:
            yield "not tried"
        elif code != SURVIVED:
            yield "killed"
        else:
            lines = altered(texts, name.rpartition(".")[2])
            yield reason(f"{outcomes} {' '.join(lines)}", change(lines)) or "shown"
            if not reason(f"{outcomes} {' '.join(lines)}", change(lines)):
                print(f"  {name}", *lines, sep="\n    ")


def reason(line: str, altered_there: str) -> str:
    """Why it makes no difference; "" for none known."""
    return next((words for words, on, what in EQUAL if re.search(on, line) and re.search(what, altered_there)), "")


def change(lines: list[str]) -> str:
    """What became of which words and signs, as `old -> new`."""
    old, new = (
        re.findall(r"\w+(?:\.\w+)*|'[^']*'|[<>=!]=?|\S", " ".join(x[1:] for x in lines if x[0] == s)) for s in "-+"
    )
    steps = difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    parts = [f"{''.join(old[a:b])} -> {''.join(new[c:d])}" for kind, a, b, c, d in steps if kind != "equal"]
    return "; ".join(parts)


def functions(module: Path) -> dict[str, str]:
    """The text of every function of a module, mutants among them."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    return {node.name: ast.unparse(node) for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}


def altered(texts: dict[str, str], name: str) -> list[str]:
    """The lines in which a mutant is other than what was written."""
    before = texts.get(f"{name.rpartition('__mutmut_')[0]}__mutmut_orig", "")
    lines = difflib.unified_diff(before.splitlines()[1:], texts.get(name, "").splitlines()[1:], lineterm="", n=0)
    return [line for line in lines if not line.startswith(("+++", "---", "@@"))]


if __name__ == "__main__":
    sys.exit(main())
