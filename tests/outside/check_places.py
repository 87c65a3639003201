"""Places shorts along the run a second time, by NumPy and SciPy, from the same captures.

    python3 check_places.py RUNPROOF_BINARY

Shares no code with the program: pair resistances by Ohm's law as the capture's format says, the run by nodal
analysis, the fit by scipy.optimize.least_squares. It takes all readings for equally good, which the program does not:
so its place must lie within the program's interval, and near its value.
"""

import json
import os
import sys
import tempfile
from itertools import combinations
from statistics import mean
from typing import Dict, List, Tuple

import numpy as np
from scipy.optimize import least_squares

import make_captures
import spice
from check_judge import judge

PAIRS = list(combinations((1, 2, 3, 4), 2))
SENSE_OHM = 4700.0 * 10_000.0 / 14_700.0
PULL_OHM = 100_000.0
# ADS1115, SBAS444E, electrical characteristics: inputs on +/-1.024 V and on +/-4.096 V.
ACROSS_OHM = {1.024: 2.4e6, 4.096: 15e6}
GROUND_OHM = 6e6
# What contacts add to a conductor: the sheet's 0 to 100 mohm at the plug; a third of that, and of a relay's 30 to
# 100 mohm, at the jig.
FAR_OHM, NEAR_OHM = 0.05, 0.32 * (0.05 + 0.065)
# Of the run.
NEAR = 0.12


def pair_ohms(capture: List[dict], phase: str, series_ohm: List[float]) -> Dict[Tuple[int, int], float]:
    read: Dict[Tuple[str, str], List[Tuple[float, float]]] = {}
    for line in capture:
        if line.get("phase") == phase and line.get("step") == "pairs":
            read.setdefault((line["drive"], line["channel"]), []).append((line["volts"], line["range_v"]))

    def volts(drive: str, channel: str) -> Tuple[float, float]:
        values = read[drive, channel]
        return mean(v for v, _ in values), values[0][1]

    def state(drive: str, i: int, j: int) -> Tuple[float, float]:
        """The voltage between the two posts, and the current from the first to the second."""
        n4 = volts(drive, "N4")[0] * (1 + SENSE_OHM / GROUND_OHM)
        v = [n4, n4, n4, n4]
        for k in (1, 2, 3):
            difference, full_scale = volts(drive, f"N{k}-N4")
            v[k - 1] += difference * (1 + 2 * SENSE_OHM / ACROSS_OHM[full_scale])
        middle = mean(v)
        v = [one + (one - middle) * SENSE_OHM / PULL_OHM for one in v]
        current = [(volts(drive, f"G{k}")[0] - v[k - 1]) / series_ohm[k - 1]
                   - (v[k - 1] - middle) / (PULL_OHM + SENSE_OHM) for k in (i, j)]
        return v[i - 1] - v[j - 1], (current[0] - current[1]) / 2

    ohms = {}
    for i, j in PAIRS:
        letters = ["Z"] * 4
        letters[i - 1], letters[j - 1] = "H", "L"
        forward = "".join(letters)
        reverse = forward.translate(str.maketrans("HL", "LH"))
        (v1, i1), (v2, i2) = state(forward, i, j), state(reverse, i, j)
        ohms[i, j] = (v1 - v2) / (i1 - i2)
    return ohms


def run_ohms(place: float, wire: float, fault: float, shorted: Tuple[int, int], ring: List[float]) -> List[float]:
    """All pairs with the plug in, then the shorted one without it. Nodes: posts 0-3, at the short 4-7, plug 8-11."""
    def between(plugged: bool, a: int, b: int) -> float:
        g = np.zeros((12, 12))

        def resistor(m: int, n: int, ohm: float) -> None:
            g[m, m] += 1 / ohm
            g[n, n] += 1 / ohm
            g[m, n] -= 1 / ohm
            g[n, m] -= 1 / ohm

        for k in range(4):
            resistor(k, 4 + k, place * wire + NEAR_OHM)
            resistor(4 + k, 8 + k, (1 - place) * wire + FAR_OHM)
        resistor(3 + shorted[0], 3 + shorted[1], max(fault, 1e-6))
        if plugged:
            for (m, n), ohm in zip(((8, 10), (10, 11), (11, 9), (9, 8)), ring):
                resistor(m, n, ohm)
        g += np.eye(12) * 1e-12  # what nothing else ties down
        current = np.zeros(12)
        current[a - 1], current[b - 1] = 1.0, -1.0
        v = np.linalg.solve(g, current)
        return v[a - 1] - v[b - 1]

    return [between(True, *pair) for pair in PAIRS] + [between(False, *shorted)]


def place(capture: List[dict], shorted: Tuple[int, int]) -> float:
    head = capture[0]
    series = head["jig"]["series_ohm"]
    plugged = pair_ohms(capture, "plug", series)
    read = [plugged[pair] for pair in PAIRS] + [pair_ohms(capture, "open", series)[shorted]]

    def off(x):
        return np.array(run_ohms(*x, shorted, head["plug"]["ring_ohm"])) - read

    fits = [least_squares(off, (start, 0.5, read[6]), bounds=([0, 1e-3, 0], [1, 50, 1e3])) for start in (0.1, 0.5, 0.9)]
    return float(min(fits, key=lambda fit: fit.cost).x[0])


def main() -> int:
    spice.require()
    binary = os.path.abspath(sys.argv[1])
    compared = failed = 0
    with tempfile.TemporaryDirectory(prefix="outside-places-") as folder:
        expected = make_captures.make(folder, ["between"])
        for name, want in expected.items():
            if want["fraction"] is None:
                continue
            path = os.path.join(folder, want["file"])
            with open(path, encoding="utf-8") as f:
                capture = [json.loads(line) for line in f]
            found = place(capture, tuple(want["finding_posts"]))
            got, why = judge(binary, path)
            told = None if got is None else got["findings"][0]["location"]["fraction"]
            good = told is not None and told["least"] <= found <= told["most"] and abs(found - told["value"]) <= NEAR
            print(f"{'ok  ' if good else 'FAIL'} {name:18} at {want['fraction']:.2f}: by SciPy {found:.3f}, told {told or why}")
            compared, failed = compared + 1, failed + (not good)
    print(f"{compared} places compared, {failed} wrong")
    return 1 if failed or not compared else 0


if __name__ == "__main__":
    sys.exit(main())
