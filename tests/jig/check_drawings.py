"""Checks that the sheets in firmware/jig are what their sources draw, and that they show every part of the front end.

    python3 tests/jig/check_drawings.py [--write]

Needs the packages of tests/outside/requirements.txt. Numbers may differ by a hundredth of a point.
"""

import os
import re
import sys

from parts import FOLDER, table
from written import report

sys.path.insert(0, os.path.join(FOLDER, "drawings"))

import draw

COMMAND = "tests/jig/check_drawings.py --write"
NUMBER = re.compile(r"-?\d+\.\d+(?:e-?\d+)?")
# Neither shown nor wired by a drawing.
NOT_DRAWN: set = set()


def alike(one: str, other: str) -> bool:
    numbers = [[float(n) for n in NUMBER.findall(text)] for text in (one, other)]
    rest = [NUMBER.sub("#", text) for text in (one, other)]
    return rest[0] == rest[1] and all(abs(a - b) <= 0.01 for a, b in zip(*numbers))


def main() -> int:
    wrong, drawn = [], set()
    for name, module in draw.SHEETS.items():
        sheet = module.draw()
        drawn |= sheet.drawn
        path, text = os.path.join(FOLDER, name + ".svg"), sheet.svg()
        if "--write" in sys.argv:
            with open(path, "w", encoding="utf-8") as f:
                f.write(text)
            continue
        try:
            with open(path, encoding="utf-8") as f:
                stands = f.read()
        except FileNotFoundError:
            stands = ""
        if not alike(stands, text):
            wrong.append(f"{name}.svg is not what firmware/jig/drawings draws: run {COMMAND}, and look at it")
    missing = sorted(set(table()) - drawn - NOT_DRAWN)
    if missing:
        wrong.append(f"no sheet shows {', '.join(missing)} of bom.csv: draw them, or take them from the list")
    return report(wrong, f"{len(draw.SHEETS)} sheets are as drawn, with all {len(drawn)} parts of bom.csv")


if __name__ == "__main__":
    sys.exit(main())
