"""Lets the live judge explain readings that are made here, and SciPy the same ones: both must find the same waves.

    python3 check_live_fit.py JUDGE_LIVE_BINARY [--runs 60] [--seed 1]

The readings are of a supply and a pair with nominal parts, with noise and steps of the converter's code. Frequency, supply and
bias have to agree with SciPy's least squares, and the truth has to lie within the stated uncertainty, parts being nominal.
Exit status 1 if anything differs.
"""

import argparse
import json
import math
import os
import subprocess
import sys
import tempfile
from typing import Dict, List, Tuple

import numpy as np
from scipy.optimize import least_squares

TOP_OHM, FOOT_OHM = 4.5e6, 22e3
RATIO = (TOP_OHM + FOOT_OHM) / FOOT_OHM
NODE_OHM = FOOT_OHM * TOP_OHM / (TOP_OHM + FOOT_OHM)
# SBAS444E: input impedance across, noise of 6.6 deviations at 860 samples a second.
ACROSS_OHM = {4.096: 15e6, 2.048: 4.9e6, 0.256: 0.71e6}
NOISE_V = {4.096: 266.93e-6 / 6.6, 2.048: 118.63e-6 / 6.6, 0.256: 35.83e-6 / 6.6}
GROUND_OHM, MID_V = 6e6, 1.65
CONVERSION_S, BEGINS_S, SLOT_US = 1 / 860, 25e-6, 1590
ALONE = ["D1-D2", "D3-D4", "D1-D2", "D1-D4"]
LOADED = ["D1-D2", "D3-D4", "D4", "D1-D4"]
HEAD = {
    "runproof_capture": 1, "made_by": "check_live_fit.py", "taken_unix_s": 1790000000,
    "jig": {"serial": "", "board": "", "firmware": "", "series_ohm": [346] * 4, "series_tolerance": 0.015,
            "sense_ohm": 3197.279, "pull_ohm": 100000, "divider_ohm": TOP_OHM + FOOT_OHM},
    "plug": {"ring_ohm": [33.2, 47.5, 68.1, 150], "tolerance": 0.001},
}
# Agreement with SciPy, which weighs the channels a little otherwise: far below what is stated as uncertainty.
HERTZ, SHARE, BIAS_V = 2e-4, 2e-5, 2e-4


def left(range_v: float) -> float:
    return 1 / (1 + 2 * NODE_OHM / ACROSS_OHM[range_v])


def mean_of_sine(hertz: float, phase: float, begin_s: float) -> float:
    """Of sin(2 pi f t + phase) over one conversion, as an integral."""
    turn = 2 * math.pi * hertz
    end_s = begin_s + CONVERSION_S
    return (math.cos(turn * begin_s + phase) - math.cos(turn * end_s + phase)) / (turn * CONVERSION_S)


def capture(scene: Dict[str, float], random: np.random.Generator) -> Tuple[List[dict], Dict[str, list]]:
    """The lines of a capture, and its readings alone by channel: time, volts at the posts, deviation."""
    lines, seen = [HEAD], {"D1-D2": [], "D3-D4": [], "D1-D4": []}
    now_us = 1_000_000
    for pattern in range(12):
        step, order = ("live", ALONE) if pattern < 8 else ("live-loaded", LOADED)
        now_us += 25_000 if pattern == 8 else 0
        for n in range(16):
            channel = order[n % 4]
            wave = scene["peak_v"] * mean_of_sine(scene["hertz"], scene["phase"], now_us * 1e-6 + BEGINS_S)
            posts = [scene["mean_v"] + scene["bias_v"] / 2, scene["mean_v"] - scene["bias_v"] / 2, 0.0, wave]
            middle = sum(posts) / 4
            range_v = {"D1-D2": 0.256, "D4": 4.096}.get(channel, 2.048)
            if channel == "D4":
                volts = (MID_V + (posts[3] - middle) / RATIO) / (1 + NODE_OHM / GROUND_OHM)
            else:
                volts = (posts[int(channel[1]) - 1] - posts[int(channel[4]) - 1]) / RATIO * left(range_v)
            step_v = range_v / 32768
            volts = round((volts + random.normal(0, NOISE_V[range_v])) / step_v) * step_v
            lines.append({"phase": "live", "step": step, "pattern": pattern, "drive": "ZZZZ", "pulls": "ZZ",
                          "relays": "open", "channel": channel, "range_v": range_v, "volts": volts, "t_us": now_us})
            if step == "live":
                deviation = math.hypot(NOISE_V[range_v], step_v / math.sqrt(12)) * RATIO / left(range_v)
                middle_s = (now_us - 1_000_000) * 1e-6 + BEGINS_S + CONVERSION_S / 2
                seen[channel].append((middle_s, volts * RATIO / left(range_v), deviation))
            now_us += SLOT_US
    lines.append({"end": "done", "phase": "live", "patterns": 12})
    return lines, seen


def by_scipy(seen: Dict[str, list], nominal: float) -> Tuple[float, float, float]:
    """Frequency, rms of D3-D4 without its mean, mean of D1-D2: one constant and one wave a channel."""
    data = [np.array(seen[channel]) for channel in ("D1-D2", "D3-D4", "D1-D4")]

    def misses(parts: np.ndarray) -> np.ndarray:
        hertz = parts[0]
        aperture = np.sinc(hertz * CONVERSION_S)
        each = []
        for k, rows in enumerate(data):
            direct, cosine, sine = parts[1 + 3 * k: 4 + 3 * k]
            turned = 2 * np.pi * hertz * rows[:, 0]
            model = direct + aperture * (cosine * np.cos(turned) + sine * np.sin(turned))
            each.append((rows[:, 1] - model) / rows[:, 2])
        return np.concatenate(each)

    # Several begins: a least square of a frequency has neighbours.
    fits = [least_squares(misses, [begin] + [0.0, 1.0, 1.0] * 3, x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15)
            for begin in nominal + np.arange(-1.5, 1.6, 0.5)]
    best = min(fits, key=lambda fit: fit.cost).x
    return best[0], math.hypot(best[5], best[6]) / math.sqrt(2), best[1]


def main() -> int:
    arguments = argparse.ArgumentParser()
    arguments.add_argument("binary")
    arguments.add_argument("--runs", type=int, default=60)
    arguments.add_argument("--seed", type=int, default=1)
    options = arguments.parse_args()
    random = np.random.default_rng(options.seed)
    wrong, worst = [], {"hertz": 0.0, "rms": 0.0, "bias": 0.0}
    with tempfile.TemporaryDirectory() as folder:
        for run in range(options.runs):
            nominal = (50.0, 60.0)[run % 2]
            scene = {"hertz": nominal + random.uniform(-0.5, 0.5), "phase": random.uniform(0, 2 * math.pi),
                     "peak_v": random.uniform(18, 29) * math.sqrt(2), "bias_v": random.uniform(-1, 1),
                     "mean_v": random.uniform(1.5, 3)}
            lines, seen = capture(scene, random)
            path = os.path.join(folder, f"{run}.jsonl")
            with open(path, "w", encoding="utf-8") as file:
                file.writelines(json.dumps(line) + "\n" for line in lines)
            done = subprocess.run([options.binary, path], capture_output=True, text=True, timeout=60, check=True)
            got = json.loads(done.stdout)
            found = [got["supply"]["hertz"], got["supply"]["alternating_rms_v"], got["pair"]["bias_v"]]
            if None in found:
                wrong.append(f"run {run}: not told: {found}")
                continue
            hertz, rms_v, bias_v = by_scipy(seen, nominal)
            off = {"hertz": abs(found[0]["value"] - hertz), "rms": abs(found[1]["value"] / rms_v - 1),
                   "bias": abs(found[2]["value"] - bias_v)}
            worst = {key: max(worst[key], off[key]) for key in worst}
            if off["hertz"] > HERTZ or off["rms"] > SHARE or off["bias"] > BIAS_V:
                wrong.append(f"run {run}: {off}")
            truth = [scene["hertz"], scene["peak_v"] / math.sqrt(2), scene["bias_v"]]
            for one, true in zip(found, truth):
                if abs(one["value"] - true) > one["u"]:
                    wrong.append(f"run {run}: {one} does not hold {true}")
    for line in wrong:
        print(line)
    print(f"{options.runs} runs; furthest from SciPy: {worst['hertz']:.1e} Hz, {worst['rms']:.1e} of the supply, "
          f"{worst['bias']:.1e} V of bias; {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
