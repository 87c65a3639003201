"""Propagates the uncertainty of conductors' resistances a second time, from captures made by ngspice.

    python3 check_uncertainty.py RUNPROOF_BINARY

The package `uncertainties` must first reproduce two worked examples of the guide (JCGM 100:2008, H.1 and H.2). Then it
carries the causes that the program states (plug, contacts, scale, temperature, model) through a model of its own, which shares no code
with the program: ring and four conductors by nodal analysis, fitted by numpy.linalg.lstsq. The plug and each reading
are told wrongly by their standard uncertainty, one after the other, and the program's own answers must move as it states.
Last, each capture gets a zero, and SciPy fits zero and run together: the program's numbers must move as these do, and be
as uncertain.
"""

import json
import os
import subprocess
import sys
import tempfile
from math import hypot, sqrt
from typing import Dict, List, Tuple

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq, least_squares
from scipy.stats import norm
from scipy.stats import t as student
from uncertainties import correlated_values, correlation_matrix, ufloat, umath, wrap

import make_captures
import spice
from check_judge import judge
from check_places import PAIRS, pair_ohms

CAPTURES = ("good-run", "reversed-pair", "good-awg16-1m-minus20c", "good-awg20-50m-45c", "parts-good-awg16-150m",
            "parts-reversed-awg24-30m", "other-jig-good")
GROUPS = ("asked", "points", "parts", "other-jig")
# In ohms, between any two of which a value is as likely as another: a clip or the plug's contact, by the sheet; a
# relay. The sense node sees this part of clip and relay at the jig.
CLIP_OHM, RELAY_OHM, NEAR_SHARE = (0.0, 0.1), (0.03, 0.1), 4.7 / 14.7
# What the program says that its model leaves out: of each pair.
MODEL_OHM, MODEL_FRACTION = 2e-3, 5e-5
# ADS1115, SBAS444E, table 6-1 (peak to peak over 6.6), and the code's step: by full scale.
READING_V = {1.024: hypot(64.26e-6 / 6.6, 31.25e-6 / sqrt(12)), 4.096: hypot(266.93e-6 / 6.6, 125e-6 / sqrt(12))}
# A resistor changes by anything up to 25 ppm a kelvin; the plug may be 45 K from 25 degrees either way, and a jig that does
# not tell, 25 K: standard uncertainties, as fractions.
WARM_PLUG, WARM_JIG = 25e-6 * 45 / 3, 25e-6 * 25 / 3
# Between the program, which carries a zero over by its slopes, and one fit of zero and run together, with cruder weights.
ZERO_WITHIN_OHM, ZERO_WITHIN_SHARE = 2e-3, 0.05
# How far what is stated may be from what is propagated, and from how far the program's answer moves: of the larger, and
# as ohms. The model has cruder weights than the program.
WITHIN = {"propagated": (0.05, 3e-4), "moved": (0.01, 3e-5)}
# Of noise, stated over moved. Above: scatter that the converters do not explain widens it, by Birge's ratio.
NOISE_RATIO = (0.93, 2.0)


# ---------------------------------------------------------------------------------------------
# the guide's examples

def guide_h2() -> List[Tuple[str, float, float, float]]:
    """Resistance and reactance, measured together: (what, found, printed, half the printed digit)."""
    volts = (5.007, 4.994, 5.005, 4.990, 4.999)
    amperes = tuple(ma / 1e3 for ma in (19.663, 19.639, 19.640, 19.685, 19.678))
    radians = (1.0456, 1.0438, 1.0468, 1.0428, 1.0433)
    read = np.array([volts, amperes, radians])
    v, i, phi = correlated_values(read.mean(axis=1), np.cov(read) / 5)
    r, x, z = v / i * umath.cos(phi), v / i * umath.sin(phi), v / i
    r_x_z = correlation_matrix((r, x, z))
    return [("H.2 R", r.n, 127.732, 5e-4), ("H.2 u(R)", r.s, 0.071, 5e-4), ("H.2 X", x.n, 219.847, 5e-4),
            ("H.2 u(X)", x.s, 0.295, 1e-3), ("H.2 Z", z.n, 254.260, 5e-4), ("H.2 u(Z)", z.s, 0.236, 5e-4),
            ("H.2 r(R, X)", r_x_z[0, 1], -0.588, 5e-4), ("H.2 r(R, Z)", r_x_z[0, 2], -0.485, 5e-4),
            ("H.2 r(X, Z)", r_x_z[1, 2], 0.993, 5e-4)]


def guide_h1() -> List[Tuple[str, float, float, float]]:
    """An end gauge's length against a standard's, in nm: l = ls + d - ls (da*theta + as*dtheta)."""
    standard = ufloat(50_000_623, 25.0)
    d_repeated, d_random, d_systematic = ufloat(215, 5.8), ufloat(0, 3.9), ufloat(0, 6.7)
    d_alpha, alpha = ufloat(0, 1e-6 / sqrt(3)), ufloat(11.5e-6, 2e-6 / sqrt(3))
    theta, d_theta = ufloat(-0.1, 0.41), ufloat(0, 0.05 / sqrt(3))
    length = standard + d_repeated + d_random + d_systematic - standard * (d_alpha * theta + alpha * d_theta)
    parts = length.error_components()
    freedom = {standard: 18, d_repeated: 24, d_random: 5, d_systematic: 8, d_alpha: 50, d_theta: 2}
    effective = length.s**4 / sum(parts[part]**4 / degrees for part, degrees in freedom.items())
    expanded = student.ppf(0.995, int(effective)) * round(length.s)
    return [("H.1 l", length.n, 50_000_838, 0.5), ("H.1 u(l)", length.s, 32, 0.5),
            ("H.1 of d_theta", parts[d_theta], 16.6, 0.05), ("H.1 of d_alpha", parts[d_alpha], 2.9, 0.05),
            ("H.1 degrees of freedom", int(effective), 16, 0), ("H.1 U99", expanded, 93, 0.5)]


# ---------------------------------------------------------------------------------------------
# the run

def plug_ohms(ring: List[float], reaches: List[int]) -> np.ndarray:
    """Between each two posts, conductors left out."""
    g = np.zeros((4, 4))
    for (a, b), ohm in zip(((0, 2), (2, 3), (3, 1), (1, 0)), ring):
        g[a, a] += 1 / ohm
        g[b, b] += 1 / ohm
        g[a, b] -= 1 / ohm
        g[b, a] -= 1 / ohm
    z = np.linalg.pinv(g)
    at = [terminal - 1 for terminal in reaches]
    return np.array([z[a, a] + z[b, b] - 2 * z[a, b] for a, b in ((at[i - 1], at[j - 1]) for i, j in PAIRS)])


def conductors(ring: List[float], scale: float, read: np.ndarray, know: dict) -> np.ndarray:
    """Four conductors, the best fit of six readings. Scale and ring are known only within their uncertainty: how far
    off they are is fitted as well, and held by that."""
    def off(x):
        legs, scale_off, ring_off = x[:4], x[4], x[5:]
        held = np.array(ring) * (1 + know["u_ring"] * ring_off)
        model = np.array([legs[i - 1] + legs[j - 1] for i, j in PAIRS]) + plug_ohms(held, know["reaches"])
        return np.concatenate([(read - scale * (1 + know["u_scale"] * scale_off) * model) / know["u_read"],
                               [scale_off], ring_off])

    x = np.concatenate([np.full(4, 0.5), np.zeros(5)])
    for _ in range(5):  # it is nearly a straight line
        slopes = np.array([(off(x + step) - off(x - step)) / 2e-3 for step in 1e-3 * np.eye(9)]).T
        x = x - np.linalg.lstsq(slopes, off(x), rcond=None)[0]
    return x[:4]


def noise_ohms(capture: List[dict], read: np.ndarray, series: List[float]) -> np.ndarray:
    """Of each pair's resistance, R = U/I by two polarities: the voltage across it, and across its series resistors."""
    u = []
    for (i, j), ohm in zip(PAIRS, read):
        letters = ["Z"] * 4
        letters[i - 1], letters[j - 1] = "H", "L"
        lines = [line for line in capture if line.get("phase") == "plug" and line.get("step") == "pairs"
                 and line["drive"] == "".join(letters)]
        of = lambda channel: [line for line in lines if line["channel"] == channel]
        mean_u = lambda some: READING_V[some[0]["range_v"]] / sqrt(len(some))
        sense = [mean_u(of(f"N{k}-N4")) for k in (i, j) if k != 4]
        drive = [mean_u(of(f"G{k}")) for k in (i, j)]
        g_i, g_j = (of(f"G{k}")[0]["volts"] for k in (i, j))
        ampere = (g_i - g_j) / (series[i - 1] + series[j - 1] + ohm)
        across, through = hypot(*sense), hypot(*drive, *sense) / (2 * series[i - 1])
        u.append(hypot(across, ohm * through) / (sqrt(2) * ampere))
    return np.array(u)


def rectangular(between: Tuple[float, float], tag: str):
    return ufloat(sum(between) / 2, (between[1] - between[0]) / sqrt(12), tag)


def propagated(capture: List[dict], reaches: List[int]) -> List[Dict[str, float]]:
    """By post: its resistance's standard uncertainties by cause. Noise only has its weight here."""
    jig, plug = capture[0]["jig"], capture[0]["plug"]
    ohms = pair_ohms(capture, "plug", jig["series_ohm"])
    read = np.array([ohms[pair] for pair in PAIRS])
    model = np.hypot(MODEL_OHM, MODEL_FRACTION * read)
    noise = noise_ohms(capture, read, jig["series_ohm"])
    u_ring, u_scale = plug["tolerance"] / sqrt(3), jig["series_tolerance"] / sqrt(3)
    know = {"u_ring": hypot(u_ring, WARM_PLUG), "u_scale": hypot(u_scale, WARM_JIG),
            "u_read": np.hypot(model, noise), "reaches": reaches}
    ring = [ufloat(ohm, ohm * u_ring, "plug") + ohm * ufloat(0, WARM_PLUG, "temperature") for ohm in plug["ring_ohm"]]
    scale = ufloat(1.0, u_scale, "scale") + ufloat(0, WARM_JIG, "temperature")
    pairs = [ohm + ufloat(0, u, "model") for ohm, u in zip(read, model)]
    out = []
    for post in (1, 2, 3, 4):
        leg = wrap(lambda *x, at=post - 1: float(conductors(x[:4], x[4], np.array(x[5:]), know)[at]))
        clip, relay = rectangular(CLIP_OHM, "near_contacts"), rectangular(RELAY_OHM, "near_contacts")
        ohm = leg(*ring, scale, *pairs) - NEAR_SHARE * (clip + relay) - rectangular(CLIP_OHM, "far_contact")
        parts: Dict[str, float] = {}
        for variable, part in ohm.error_components().items():
            parts[variable.tag] = hypot(parts.get(variable.tag, 0.0), part)
        out.append(parts)
    return out


# ---------------------------------------------------------------------------------------------
# a zero

def with_zero(capture: List[dict], chance: np.random.Generator) -> List[dict]:
    """The same capture at 25 degrees with a zero: another ring and scale, within tolerance, and clips."""
    jig, plug = capture[0]["jig"], capture[0]["plug"]
    ring = np.array(plug["ring_ohm"]) * (1 + 0.5 * plug["tolerance"] * chance.uniform(-1, 1, 4))
    scale = 1 + 0.1 * jig["series_tolerance"] * chance.uniform(-1, 1)
    clips = chance.uniform(0, 0.1, 4)
    ohm = scale * (plug_ohms(list(ring), [1, 2, 3, 4]) + np.array([clips[i - 1] + clips[j - 1] for i, j in PAIRS]))
    zero = {"zero_ohm": list(ohm), "u_ohm": [0.001] * 6, "jig_c": 25.0, "taken_unix_s": 0}
    return [*capture[:1], zero, {"phase": "plug", "jig_c": 25.0}, *capture[1:]]


def fitted(capture: List[dict], reaches: List[int]) -> Tuple[np.ndarray, np.ndarray]:
    """Four conductors and their standard uncertainties, by one nonlinear fit of zero and run together."""
    jig, plug, zero = capture[0]["jig"], capture[0]["plug"], capture[1]
    ohms = pair_ohms(capture, "plug", jig["series_ohm"])
    read = np.array([ohms[pair] for pair in PAIRS])
    u_read = np.hypot(np.hypot(MODEL_OHM, MODEL_FRACTION * read), noise_ohms(capture, read, jig["series_ohm"]))
    zero_ohm = np.array(zero["zero_ohm"])
    u_zero = np.hypot(np.hypot(MODEL_OHM, MODEL_FRACTION * zero_ohm), zero["u_ohm"])
    u_ring, u_scale = plug["tolerance"] / sqrt(3), jig["series_tolerance"] / sqrt(3)
    near = NEAR_SHARE * hypot(CLIP_OHM[1] - CLIP_OHM[0], RELAY_OHM[1] - RELAY_OHM[0]) / sqrt(12)
    u_contacts = hypot(near, (CLIP_OHM[1] - CLIP_OHM[0]) / sqrt(12))
    contacts = NEAR_SHARE * (sum(CLIP_OHM) + sum(RELAY_OHM)) / 2 + sum(CLIP_OHM) / 2
    two = lambda legs: np.array([legs[i - 1] + legs[j - 1] for i, j in PAIRS])

    def off(x):
        legs, ring, scale, drift, clips = x[:4], x[4:8], x[8], x[9:13], x[13:17]
        held = np.array(plug["ring_ohm"])
        now = plug_ohms(list(held * (1 + u_ring * ring + WARM_PLUG * drift)), reaches)
        then = plug_ohms(list(held * (1 + u_ring * ring)), [1, 2, 3, 4])
        scale_now = 1 + u_scale * scale
        return np.concatenate([(read - scale_now * (two(legs) + now)) / u_read,
                               (zero_ohm - scale_now * (two(contacts + u_contacts * clips) + then)) / u_zero,
                               ring, [scale], drift, clips])

    fit = least_squares(off, np.concatenate([np.full(4, 0.5), np.zeros(13)]), method="lm", x_scale="jac")
    covariance = np.linalg.inv(fit.jac.T @ fit.jac)[:4, :4]
    return fit.x[:4] - contacts, np.sqrt(np.diag(covariance) + u_contacts**2)


def compare_zeroed(binary: str, name: str, path: str, chance: np.random.Generator) -> List[str]:
    """By how much one zero instead of another moves the numbers, and what it leaves uncertain."""
    with open(path, encoding="utf-8") as f:
        plain = [json.loads(line) for line in f]
    captures, answers = [with_zero(plain, chance) for _ in range(2)], []
    with tempfile.TemporaryDirectory(prefix="outside-zeroed-") as folder:
        zeroed = os.path.join(folder, "zeroed.jsonl")
        for capture in captures:
            with open(zeroed, "w", encoding="utf-8") as f:
                f.writelines(json.dumps(line) + "\n" for line in capture)
            got, why = judge(binary, zeroed)
            if got is None:
                return [why]
            if not (got["zero"] or {}).get("used"):
                return ["its zero was not used"]
            answers.append(got["conductors"])
    reaches = [row["reaches"] for row in answers[0]]
    (ohm, u_ohm), (other_ohm, _) = (fitted(capture, reaches) for capture in captures)
    wrong, told = [], []
    for row, other, u, by_zero in zip(*answers, u_ohm, ohm - other_ohm):
        stated = sqrt(sum(value**2 for value in row["budget"].values()))
        moved_by = row["resistance_ohm"] - other["resistance_ohm"]
        told.append(f"u {1e3 * stated:.2f} f {1e3 * u:.2f}, moved {1e3 * moved_by:.1f} f {1e3 * by_zero:.1f}")
        allowed = ZERO_WITHIN_OHM + ZERO_WITHIN_SHARE * abs(by_zero)
        if not (abs(moved_by - by_zero) <= allowed and abs(stated / u - 1) <= ZERO_WITHIN_SHARE):
            wrong.append(f"post {row['post']}: {told[-1]}")
    print(f"  {name:24} zeroed, stated and fitted (f): {'; '.join(told)}")
    return wrong


def moved(binary: str, captures: List[List[dict]], folder: str) -> np.ndarray:
    """By how much the program's answers differ from those to the first capture: a row each, by post."""
    for n, capture in enumerate(captures):
        with open(os.path.join(folder, f"{n:04}.jsonl"), "w", encoding="utf-8") as f:
            f.writelines(json.dumps(line) + "\n" for line in capture)
    done = subprocess.run([binary, "judge", folder, "--json"], capture_output=True, text=True, timeout=300)
    answers = [json.loads(line)["result"] for line in done.stdout.splitlines()]
    ohms = np.array([[row["resistance_ohm"] for row in answer["conductors"]] for answer in answers], float)
    if len(ohms) != len(captures):
        raise SystemExit(f"{len(captures)} captures, {len(ohms)} answers: {done.stderr}")
    return ohms[1:] - ohms[0]


def told_otherwise(capture: List[dict]) -> List[List[dict]]:
    """The same capture with another plug: each of its resistors off by its standard uncertainty."""
    head, plug = capture[0], capture[0]["plug"]
    out = []
    for n in range(4):
        ring = list(plug["ring_ohm"])
        ring[n] *= 1 + plug["tolerance"] / sqrt(3)
        out.append([{**head, "plug": {**plug, "ring_ohm": ring}}, *capture[1:]])
    return out


def read_otherwise(capture: List[dict]) -> List[List[dict]]:
    """The same capture, each reading of the pairs off by its standard uncertainty."""
    out = []
    for n, line in enumerate(capture):
        if line.get("phase") == "plug" and line.get("step") == "pairs":
            off = {**line, "volts": line["volts"] + READING_V[line["range_v"]]}
            out.append([*capture[:n], off, *capture[n + 1:]])
    return out


def moved_by_cause(binary: str, capture: List[dict]) -> Dict[str, np.ndarray]:
    out = {}
    for cause, others in (("plug", told_otherwise(capture)), ("instrument", read_otherwise(capture))):
        with tempfile.TemporaryDirectory(prefix="outside-moved-") as folder:
            out[cause] = np.sqrt((moved(binary, [capture, *others], folder) ** 2).sum(axis=0))
    return out


# ---------------------------------------------------------------------------------------------

def apart(cause: str, how: str, stated: float, found: float) -> bool:
    if cause == "instrument":
        return not NOISE_RATIO[0] * found <= stated <= NOISE_RATIO[1] * found
    share, ohm = WITHIN[how]
    return not abs(stated - found) <= share * max(stated, found) + ohm


def holding_95(stated: Dict[str, float]) -> float:
    """What 95 % lie within, of a part that may be anywhere between bounds and one that is normal: JCGM 101's
    convolution, by adaptive quadrature; noise has 12 degrees of freedom (JCGM 100, G.4.1)."""
    half_width = sqrt(3) * stated["far_contact"]
    rest = sqrt(sum(value**2 for cause, value in stated.items() if cause != "far_contact"))
    degrees = 12 * (rest / stated["instrument"])**4
    rest *= student.ppf(0.975, degrees) / norm.ppf(0.975)
    within = lambda limit: quad(lambda at: norm.cdf((limit - at) / rest) - norm.cdf((-limit - at) / rest),
                                -half_width, half_width)[0] / (2 * half_width)
    return brentq(lambda limit: within(limit) - 0.95, 0, half_width + 4 * rest)


def compare(binary: str, name: str, path: str) -> List[str]:
    wrong: List[str] = []
    with open(path, encoding="utf-8") as f:
        capture = [json.loads(line) for line in f]
    got, why = judge(binary, path)
    if got is None:
        return [why]
    rows = got["conductors"]
    by_model = propagated(capture, [row["reaches"] for row in rows])
    by_moving = moved_by_cause(binary, capture)
    for k, (row, propagated_ohm) in enumerate(zip(rows, by_model)):
        stated = {key.removesuffix("_ohm"): value for key, value in row["budget"].items()}
        combined = sqrt(sum(value**2 for value in stated.values()))
        expanded = row["expanded_uncertainty_ohm"]
        if not abs(row["coverage_factor"] * combined / expanded - 1) < 1e-9:
            wrong.append(f"post {row['post']}: {row['coverage_factor']} x {combined} is not {expanded}")
        if not abs(holding_95(stated) / expanded - 1) < 1e-3:
            wrong.append(f"post {row['post']}: +-{expanded} stated, 95 % lie within {holding_95(stated)}")
        told = []
        for cause, value in stated.items():
            others = {"propagated": propagated_ohm.get(cause), "moved": by_moving.get(cause, [None] * 4)[k]}
            others = {how: float(other) for how, other in others.items() if other is not None}
            told.append(f"{cause} {1e3 * value:.2f} " + " ".join(f"{how[0]} {1e3 * x:.2f}" for how, x in others.items()))
            if cause == "zeroing":
                wrong += [f"post {row['post']}: zeroing without a zero"] if value else []
            elif not others:
                wrong.append(f"post {row['post']}: {cause} is not checked")
            wrong += [f"post {row['post']}: {cause} {1e3 * value:.2f} mohm stated, {1e3 * other:.2f} {how}"
                      for how, other in others.items() if apart(cause, how, value, other)]
        print(f"  {name:24} post {row['post']}: {', '.join(told)}")
    return wrong


def main() -> int:
    spice.require()
    binary = os.path.abspath(sys.argv[1])
    failed = 0
    for what, found, printed, half in guide_h1() + guide_h2():
        good = abs(found - printed) <= half
        print(f"{'ok  ' if good else 'FAIL'} {what}: {found:.4f}, printed {printed}")
        failed += not good
    chance = np.random.default_rng(4)
    print("stated, propagated by the model (p), moved (m), in mohm:")
    with tempfile.TemporaryDirectory(prefix="outside-uncertainty-") as folder:
        expected = make_captures.make(folder, GROUPS)
        for name in CAPTURES:
            wrong = compare(binary, name, os.path.join(folder, expected[name]["file"]))
            for one in wrong:
                print(f"    FAIL {name}: {one}")
            failed += bool(wrong)
            wrong = compare_zeroed(binary, name, os.path.join(folder, expected[name]["file"]), chance)
            for one in wrong:
                print(f"    FAIL {name}, zeroed: {one}")
            failed += bool(wrong)
    print(f"{len(CAPTURES)} captures compared, plain and zeroed, {failed} wrong")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
