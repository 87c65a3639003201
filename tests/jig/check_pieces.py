"""Checks firmware/jig/check-pieces.md: what the program says of the three pieces, on jigs drawn from their tolerances.

    python3 tests/jig/check_pieces.py RUNPROOF_BINARY
"""

import json
import os
import re
import subprocess
import sys
import tomllib
from typing import Dict, List, Tuple

from parts import FOLDER
from written import report

DOCUMENT = "check-pieces.md"
SEEDS = range(1, 11)
PIECES = 3
CONDUCTORS = ("data+", "data-", "common", "supply")


def expected() -> Dict[str, Tuple[int, str, List[str]]]:
    """By piece: exit status, first line, and ohms by conductor."""
    with open(os.path.join(FOLDER, DOCUMENT), encoding="utf-8") as f:
        rows = [[cell.strip() for cell in line.strip("|\n ").split("|")] for line in f if line.startswith("|")]
    return {row[0]: (int(row[1]), row[2], row[3:]) for row in rows if len(row) == 7 and row[1].isdigit()}


def stated_otherwise(pieces: Dict[str, Tuple[int, str, List[str]]]) -> List[str]:
    """What check-pieces.toml, which `runproof prove` goes by, states otherwise than the table."""
    with open(os.path.join(FOLDER, "check-pieces.toml"), "rb") as f:
        stated = {one["name"]: one for one in tomllib.load(f)["piece"]}
    wrong = []
    for piece, (status, _, ohms) in pieces.items():
        one = stated.pop(piece, {"verdict": None, "ohm": {}})
        if one["verdict"] != ("pass", "fail", "cannot-tell")[status]:
            wrong.append(f"{piece}: check-pieces.toml says {one['verdict']}, the table exit {status}")
        for conductor, within in zip(CONDUCTORS, ohms):
            bounds = numbers(within) or None
            if one["ohm"].get(conductor) != bounds:
                wrong.append(f"{piece}: check-pieces.toml has {one['ohm'].get(conductor)} for {conductor}, the table {bounds}")
    return wrong + [f"{piece}: the table has no such piece" for piece in stated]


def numbers(within: str) -> List[float]:
    return [float(n.replace("−", "-")) for n in re.findall(r"−?\d[\d.]*", within)]


def said(binary: str, piece: str, seed: int, *more: str) -> Tuple[int, str]:
    scene = os.path.join(FOLDER, "check-pieces", piece + ".toml")
    command = [binary, "check", "--simulate", scene, "--seed", str(seed), "--touch", "never", "--yes", "--zero", "none", "--no-record", *more]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    return done.returncode, done.stdout


def wrong_of(binary: str, piece: str, seed: int, want: Tuple[int, str, List[str]]) -> List[str]:
    status, first, ohms = want
    got, words = said(binary, piece, seed)
    wrong = [f"exit status {got}, should be {status}"] * (got != status)
    wrong += [f"says {words.splitlines()[:1]}, should say {first!r}"] * (words.splitlines()[:1] != [first])
    told = json.loads(said(binary, piece, seed, "--json")[1])
    for conductor, within in zip(CONDUCTORS, ohms):
        reads = next(one["resistance_ohm"] for one in told["conductors"] if one["name"] == conductor)
        bounds = numbers(within)
        if bounds and (reads is None or not bounds[0] <= round(reads, 2) <= bounds[1]) or not bounds and reads is not None:
            wrong.append(f"{conductor} reads {reads}, should be within {within}")
    return [f"{piece}, jig {seed}: {one}; put {DOCUMENT} right, or what changed in the program" for one in wrong]


def main() -> int:
    if len(sys.argv) != 2 or not os.access(sys.argv[1], os.X_OK):
        print("FAIL name the program: check_pieces.py target/release/runproof (cargo build --release)")
        return 1
    pieces = expected()
    wrong = [f"{DOCUMENT} has results of {sorted(pieces)}, should of {PIECES} pieces"] * (len(pieces) != PIECES)
    wrong += stated_otherwise(pieces)
    for piece, want in pieces.items():
        for seed in SEEDS:
            wrong += wrong_of(os.path.abspath(sys.argv[1]), piece, seed, want)
    return report(wrong, f"{len(pieces)} check pieces on {len(SEEDS)} jigs read as stated")


if __name__ == "__main__":
    sys.exit(main())
