"""The reader under bytes that are grown by what they reach in it: `python -m tests.benchmarks.fuzzing [seconds]`.

An hour if nothing else is said. Wants atheris, which nothing else here does and the lock leaves out: it is installed by
hand. An input that begins like a file is read as one, and again under a digest that fits, so that what lies behind the
digest is reached; any other is a recipe for changes to a demo. What ends neither in a design nor in a Refusal, or takes
long, stops the run and is shown.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path
from time import process_time
from typing import Any, Final

from core.shipped import asset

ROOT: Final = Path(__file__).resolve().parents[2]
SECONDS: Final = 3600
SLOWEST: Final = 2
"""Seconds of the processor that a file may take: what the program promises for any."""


def main() -> int:
    """Run the fuzzer in a process of its own, which it never comes back from, and print the row of DEVELOPERS.md."""
    if find_spec("atheris") is None:
        sys.exit("This wants atheris: python -m pip install atheris")
    seconds = int(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    with tempfile.TemporaryDirectory() as folder:
        for path in (*asset("demo", "concert-bodice.sheer").parent.glob("*.sheer"), *(ROOT / "tests/corpus").iterdir()):
            shutil.copy(path, folder)
        for number in range(8):
            Path(folder, f"recipe-{number}").write_bytes(b"\x80" + os.urandom(16 * (number + 1)))
        limits = (f"-max_total_time={seconds}", "-timeout=60", "-max_len=40000", "-print_final_stats=1")
        found = f"-artifact_prefix={tempfile.gettempdir()}/sheerwright-fuzz-"
        command = (sys.executable, "-m", "tests.benchmarks.fuzzing", "grow", *limits, found, folder)
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    counted = dict(re.findall(r"stat::(\w+):\s+(\d+)", done.stderr))
    reached = re.findall(r"cov: (\d+)", done.stderr)
    inputs, places = counted.get("number_of_executed_units", "?"), reached[-1] if reached else "?"
    ending = "stopped, see below" if done.returncode else "no crash"
    print(f"| the reader, fuzzed for {seconds / 60:.0f} minutes | {inputs} inputs, {places} places reached: {ending} |")
    if done.returncode:
        print(done.stdout[-3000:], done.stderr[-3000:], sep="\n")
    return done.returncode


def grow() -> None:
    """Read what libFuzzer grows, for ever; it counts what is reached in the reader, the gates and the envelope."""
    import atheris  # noqa: PLC0415 # installed by hand

    with atheris.instrument_imports(include=["core.file", "json"]):
        from core.file.reader import design_from_bytes  # noqa: PLC0415 # only what is imported here is counted
        from core.file.writer import design_to_bytes  # noqa: PLC0415
    from core.errors import Refusal  # noqa: PLC0415

    sources = [path.read_bytes() for path in asset("demo", "concert-bodice.sheer").parent.glob("*.sheer")]

    def read(data: bytes) -> None:
        if data[:1] == b"{":
            files: tuple[bytes, ...] = (data, resealed(data))
        else:
            files = (resealed(changed(sources, atheris.FuzzedDataProvider(data))),)
        for file in files:
            begun = process_time()
            try:
                design = design_from_bytes(file)
            except Refusal:
                continue
            finally:
                assert process_time() - begun < SLOWEST
            assert design_from_bytes(design_to_bytes(design)) == design

    atheris.Setup([sys.argv[0], *sys.argv[2:]], read)
    atheris.Fuzz()


def resealed(data: bytes) -> bytes:
    """The same envelope with a digest that fits, or the data as they are where they hold no design."""
    try:
        whole = json.loads(data)
        canonical = json.dumps(whole["design"], sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        whole["digest"] = hashlib.sha256(canonical.encode()).hexdigest()
        return json.dumps(whole).encode()
    except (ValueError, TypeError, KeyError, RecursionError):
        return data


def changed(sources: list[bytes], recipe: Any) -> bytes:  # noqa: ANN401 # atheris is installed by hand
    """A file with up to eight values at any depth replaced, doubled or taken out, as the bytes of a recipe say."""
    whole = json.loads(recipe.PickValueInList(sources))
    for _ in range(recipe.ConsumeIntInRange(1, 8)):
        found = [(at, key) for at in within(whole) for key in (at if isinstance(at, dict) else range(len(at)))]
        if not found:
            break
        at, key = recipe.PickValueInList(found)
        there, other = recipe.PickValueInList(found)
        act = recipe.ConsumeIntInRange(0, 5)
        if act <= 1:
            at[key] = recipe.PickValueInList([0, -1, 1.5, 9_999.0, 1e-300, True, None, "", "front", [], {}])
        elif act == 2:
            at[key] = json.loads(json.dumps(there[other]))
        elif act == 3:
            at[key] = recipe.ConsumeUnicodeNoSurrogates(40)
        elif act == 4 and isinstance(at, list):
            at.insert(key, at[key])
        else:
            del at[key]
    return json.dumps(whole).encode()


def within(value: object) -> list[Any]:
    """Every list and object of a document, itself among them."""
    entries = list(value.values()) if isinstance(value, dict) else value if isinstance(value, list) else []
    return [
        *([value] if isinstance(value, dict | list) else []),
        *(deep for entry in entries for deep in within(entry)),
    ]


if __name__ == "__main__":
    if sys.argv[1:2] == ["grow"]:
        grow()
    else:
        sys.exit(main())
