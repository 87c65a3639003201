"""Writes the sheets: python3 draw.py FOLDER."""

import os
import sys

import common
import edges
import far_end
import post

SHEETS = {"post": post, "common": common, "far-end": far_end, "edges": edges}


def main() -> int:
    folder = sys.argv[1]
    for name, sheet in SHEETS.items():
        with open(os.path.join(folder, name + ".svg"), "w", encoding="utf-8") as f:
            f.write(sheet.draw().svg())
    return 0


if __name__ == "__main__":
    sys.exit(main())
