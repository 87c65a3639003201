"""Puts what was computed into a document of firmware/jig between its marks, or says that it is not what stands there."""

import difflib
import os
from typing import List

from parts import FOLDER


def between_marks(name: str, mark: str, lines: List[str], write: bool, command: str) -> List[str]:
    """What is wrong; with `write` it is put right."""
    path = os.path.join(FOLDER, name)
    with open(path, encoding="utf-8") as f:
        text = f.read()
    start, end = f"<!-- {mark}: written by {command} -->\n", f"<!-- end of {mark} -->\n"
    if text.count(start) != 1 or text.count(end) != 1:
        return [f"{name}: should have the lines {start.strip()!r} and {end.strip()!r} once each"]
    before, _, rest = text.partition(start)
    stands, _, after = rest.partition(end)
    should = "\n".join(["", *lines, "", ""])
    if stands == should:
        return []
    if write:
        with open(path, "w", encoding="utf-8") as f:
            f.write(before + start + should + end + after)
        return []
    differs = [line for line in difflib.ndiff(stands.splitlines(), should.splitlines()) if line[0] in "+-"]
    return [f"{name}: {mark} is not what comes out; run {command}, and look at what it changed:", *differs[:6]]


def table(heads: List[str], rows: List[List[str]]) -> List[str]:
    """In Markdown."""
    return ["| " + " | ".join(cells) + " |" for cells in (heads, ["---"] * len(heads), *rows)]


def report(wrong: List[str], good: str) -> int:
    """The exit status."""
    for line in wrong:
        print(f"FAIL {line}")
    if not wrong:
        print(f"ok   {good}")
    return 1 if wrong else 0
