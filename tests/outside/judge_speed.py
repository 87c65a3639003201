"""How fast captures are judged, beside SciPy, which only fits the conductors.

    python3 judge_speed.py RUNPROOF_BINARY

Not a test: it prints times and their ratio, from one run. The program reads each file, judges all of it and writes its
result; SciPy gets the captures as Python objects, and finds the pair resistances and the fit by its own
`least_squares`.
"""

import json
import os
import subprocess
import sys
import tempfile
from time import perf_counter

import numpy as np
from scipy.optimize import least_squares

from check_places import PAIRS, pair_ohms
from check_uncertainty import plug_ohms

SEEDS = 100
SCENES = ("good-run", "corroded-splice", "staple-short")


def captures(binary: str, scene: str, folder: str) -> list:
    out = []
    for seed in range(1, SEEDS + 1):
        path = os.path.join(folder, f"{seed:03}.jsonl")
        check = [binary, "check", "--simulate", scene, "--seed", str(seed), "--yes", "--json", "--zero", "none"]
        subprocess.run([*check, "--save", path], capture_output=True)
        with open(path, encoding="utf-8") as f:
            out.append([json.loads(line) for line in f])
    return out


def fitted(capture: list) -> np.ndarray:
    """Four conductors, by the six pair resistances, all equally good: a small part of what the program does."""
    jig, plug = capture[0]["jig"], capture[0]["plug"]
    ohms = pair_ohms(capture, "plug", jig["series_ohm"])
    read = np.array([ohms[pair] for pair in PAIRS])
    ring = plug_ohms(plug["ring_ohm"], [1, 2, 3, 4])
    model = lambda legs: np.array([legs[i - 1] + legs[j - 1] for i, j in PAIRS]) + ring
    return least_squares(lambda legs: model(legs) - read, np.full(4, 0.5)).x


def main() -> int:
    binary = os.path.abspath(sys.argv[1])
    for scene in SCENES:
        with tempfile.TemporaryDirectory(prefix="judge-speed-") as folder:
            all_of_them = captures(binary, scene, folder)
            begun = perf_counter()
            subprocess.run([binary, "judge", folder, "--json"], capture_output=True,
                           env={**os.environ, "RAYON_NUM_THREADS": "1"})
            program = (perf_counter() - begun) / SEEDS
        begun = perf_counter()
        for capture in all_of_them:
            fitted(capture)
        other = (perf_counter() - begun) / SEEDS
        print(f"{scene:18} program {1e3 * program:.2f} ms a file, one thread; SciPy's fit alone {1e3 * other:.2f} ms; "
              f"ratio {other / program:.2f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
