"""Asks the statistics of the shop random questions, and holds the answers against SciPy, whole numbers, and a draw repeated here.

    python3 check_quality.py QUALITY_BINARY [--seed 1] [--times 1.0]

Hypergeometric chances, means and variances are exact fractions here; SciPy has the other distributions, except the
noncentral t, which is integrated here by its quadrature, as its own quantile is not good to the digits asked for.
Exit status 1 if any answer has fewer than nine digits right.
"""

import argparse
import json
import math
import random
import subprocess
import sys
from fractions import Fraction
from typing import Any, Callable, Dict, Iterator, List, Tuple

import numpy as np
from scipy import integrate, optimize, special, stats

RIGHT = 1e-9
Question = Dict[str, Any]
Pairs = List[Tuple[float, float]]


def hypergeometric(lot: int, bad: int, sample: int, most: int) -> float:
    ways = sum(math.comb(bad, k) * math.comb(lot - bad, sample - k) for k in range(0, min(most, bad, sample) + 1)
               if sample - k <= lot - bad)
    return float(Fraction(ways, math.comb(lot, sample)))


def draw(lot: int, sample: int, seed: int) -> List[int]:
    """As the library's documentation has it: SplitMix64, and exchanges from the front."""
    mask, state, units = 2**64 - 1, seed, list(range(1, lot + 1))

    def word() -> int:
        nonlocal state
        state = (state + 0x9E3779B97F4A7C15) & mask
        z = ((state ^ (state >> 30)) * 0xBF58476D1CE4E5B9) & mask
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
        return z ^ (z >> 31)

    def below(m: int) -> int:
        while (drawn := word()) >= 2**64 - 2**64 % m:
            pass
        return drawn % m

    for i in range(sample):
        j = i + below(lot - i)
        units[i], units[j] = units[j], units[i]
    return units[:sample]


def nct_more_than(t: float, degrees: float, shift: float) -> float:
    """P(T > t) by quadrature over the root mean square."""
    scale = math.log(2) + 0.5 * degrees * math.log(0.5 * degrees) - math.lgamma(0.5 * degrees)

    def density(s: float) -> float:
        if s == 0:
            return 0.0 if degrees > 1 else math.exp(scale) * special.ndtr(shift)
        return math.exp(scale + (degrees - 1) * math.log(s) - 0.5 * degrees * s * s) * special.ndtr(shift - t * s)
    width = 1 / math.sqrt(2 * degrees)
    ends = [max(0.0, 1 - 14 * width), 1 - 4 * width, 1 - width, 1, 1 + width, 1 + 4 * width, 1 + 14 * width]
    ends = sorted({end for end in ends if end >= 0} | {0.0 if degrees < 200 else ends[0]})
    return sum(integrate.quad(density, a, b, epsabs=0, epsrel=1e-12, limit=200)[0] for a, b in zip(ends, ends[1:]))


def nct_quantile(more: float, degrees: float, shift: float, near: float) -> float:
    low, high = (near * 0.98, near * 1.02) if near > 0 else (near * 1.02, near * 0.98)
    return optimize.brentq(lambda t: nct_more_than(t, degrees, shift) - more, low - 1e-3, high + 1e-3, xtol=1e-14, rtol=1e-13)


def two_sided(count: int, part: float, confidence: float) -> float:
    degrees = count - 1

    def half(z: float) -> float:
        return optimize.brentq(lambda r: special.ndtr(z - r) + special.ndtr(-r - z) - (1 - part), 0, 60, xtol=1e-15, rtol=1e-14)

    def held(k: float) -> float:
        def of(z: float) -> float:
            return math.exp(-0.5 * z * z) * special.chdtrc(degrees, degrees * (half(z / math.sqrt(count)) / k) ** 2)
        return math.sqrt(2 / math.pi) * integrate.quad(of, 0, 9, epsabs=1e-14, epsrel=1e-12, limit=200)[0]

    return optimize.brentq(lambda k: held(k) - confidence, 0.01, 1e5, xtol=1e-12, rtol=1e-12)


def range_moments(count: int) -> Tuple[float, float]:
    """The mean and the mean square of the range of `count` standard normal values."""
    def beyond(w: float) -> float:
        inner = integrate.quad(lambda x: math.exp(-0.5 * x * x) / math.sqrt(2 * math.pi) * (special.ndtr(x + w) - special.ndtr(x)) ** (count - 1), -9, 9)
        return 1 - count * inner[0]
    return (integrate.quad(beyond, 0, 14)[0], integrate.quad(lambda w: 2 * w * beyond(w), 0, 14)[0])


# Each kind: a question at random, and what of an answer is compared with what.

def accepted(r: random.Random) -> Question:
    sample = r.choice([2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, r.randint(1, 3000)])
    acceptance = r.choice([0, 1, 2, 3, 5, 7, 10, 14, 21, r.randint(0, 60)])
    mean = max(0.1, acceptance + r.uniform(-3, 6) * math.sqrt(acceptance + 1))
    return {"sample": sample, "acceptance": acceptance, "fraction": min(1.0, mean / sample)}


def check_accepted(q: Question, a: Any) -> Pairs:
    return [(a[0], stats.binom.cdf(q["acceptance"], q["sample"], q["fraction"])),
            (a[1], stats.binom.sf(q["acceptance"], q["sample"], q["fraction"]))]


def lot_accepted(r: random.Random) -> Question:
    lot = int(math.exp(r.uniform(math.log(2), math.log(20000))))
    return {"lot": lot, "sample": r.randint(1, min(lot, 600)), "acceptance": r.randint(0, 12),
            "nonconforming": r.randint(0, max(1, int(lot * r.choice([0.02, 0.1, 1.0]))))}


def check_lot_accepted(q: Question, a: Any) -> Pairs:
    return [(a[0], hypergeometric(q["lot"], q["nonconforming"], q["sample"], q["acceptance"]))]


def quality(r: random.Random) -> Question:
    sample = r.randint(1, 2000)
    return {"sample": sample, "acceptance": r.randint(0, min(sample - 1, 44)),
            "chance": r.choice([0.99, 0.95, 0.9, 0.5, 0.1, 0.05, r.uniform(0.001, 0.999)])}


def check_quality(q: Question, a: Any) -> Pairs:
    return [(a[0], stats.beta.isf(q["chance"], q["acceptance"] + 1, q["sample"] - q["acceptance"]))]


def outgoing_limit(r: random.Random) -> Question:
    sample = r.randint(2, 500)
    return {"sample": sample, "acceptance": r.randint(0, min(sample - 1, 21)), "lot": r.randint(sample + 1, 100_000)}


def check_outgoing_limit(q: Question, a: Any) -> Pairs:
    n, c, lot = q["sample"], q["acceptance"], q["lot"]
    found = optimize.minimize_scalar(lambda p: -p * stats.binom.cdf(c, n, p), bounds=(0, min(1, 2 * (c + 2) / n)),
                                     method="bounded", options={"xatol": 1e-12})
    place = (a[1] - found.x) / found.x
    # Flat at its top, the place is only good to half the digits.
    return [(a[0], -found.fun * (lot - n) / lot), (1 + (place if abs(place) > 1e-5 else 0), 1)]


def finding(r: random.Random) -> Question:
    lot = r.randint(1, 5000)
    return {"lot": lot, "nonconforming": r.randint(0, min(lot, 20)), "sample": r.randint(0, min(lot, 300))}


def check_finding(q: Question, a: Any) -> Pairs:
    ways = math.comb(q["lot"] - q["nonconforming"], q["sample"])
    return [(a[0], float(1 - Fraction(ways, math.comb(q["lot"], q["sample"]))))]


def zero_acceptance(r: random.Random) -> Question:
    return {"lot": r.randint(1, 3000), "limit": r.choice([0.01, 0.025, 0.05, 0.1, 0.2]), "risk": r.choice([0.01, 0.05, 0.1, 0.2])}


def check_zero_acceptance(q: Question, a: Any) -> Pairs:
    lot, risk = q["lot"], Fraction(q["risk"])
    bad = math.ceil(Fraction(str(q["limit"])) * lot)
    missed = [Fraction(math.comb(lot - bad, n), math.comb(lot, n)) for n in range(max(a[0] - 1, 0), a[0] + 1)]
    smallest = missed[-1] <= risk * (1 + Fraction(1, 10**14)) and (a[0] <= 1 or missed[0] > risk)
    return [(a[1], bad), (float(smallest), 1.0), (a[2], float(missed[-1]))]


def drawn(r: random.Random) -> Question:
    lot = r.randint(1, 2000)
    return {"lot": lot, "sample": r.randint(0, lot), "seed": r.getrandbits(64)}


def check_draw(q: Question, a: Any) -> Pairs:
    return [(float(a == draw(q["lot"], q["sample"], q["seed"])), 1.0)]


def variables(r: random.Random) -> Question:
    good = r.choice([0.001, 0.0025, 0.01, 0.025, 0.04])
    return {"good": good, "producers": r.choice([0.01, 0.05, 0.1]), "bad": good * r.uniform(2, 10),
            "consumers": r.choice([0.05, 0.1, 0.2])}


def check_variables(q: Question, a: Any) -> Pairs:
    n, k, chance = a

    def shift(p: float, n: int) -> float:
        return math.sqrt(n) * stats.norm.isf(p)

    t = k * math.sqrt(n)
    exact = nct_quantile(q["consumers"], n - 1, shift(q["bad"], n), t)
    by_less = stats.nct.isf(q["consumers"], n - 2, shift(q["bad"], n - 1)) if n > 2 else 0.0
    smallest = n == 2 or 1 - nct_more_than(by_less, n - 2, shift(q["good"], n - 1)) > q["producers"] - 1e-7
    holds = 1 - chance <= q["producers"]
    return [(k, exact / math.sqrt(n)), (chance, nct_more_than(t, n - 1, shift(q["good"], n))), (float(smallest and holds), 1.0)]


def proportion(r: random.Random) -> Question:
    units = r.randint(1, 3000)
    return {"units": units, "counted": min(units, r.choice([0, 1, 2, r.randint(0, units)])), "confidence": r.choice([0.8, 0.9, 0.95, 0.99])}


def check_proportion(q: Question, a: Any) -> Pairs:
    x, n, tail = q["counted"], q["units"], (1 - q["confidence"]) / 2
    return [(a[0], stats.beta.ppf(tail, x, n - x + 1) if x else 0.0), (a[1], stats.beta.isf(tail, x + 1, n - x) if x < n else 1.0)]


def factor(r: random.Random) -> Question:
    return {"count": r.choice([2, 3, 5, 10, 43, r.randint(2, 400)]), "part": r.choice([0.75, 0.9, 0.95, 0.99]),
            "confidence": r.choice([0.75, 0.9, 0.95, 0.99])}


def check_one_sided(q: Question, a: Any) -> Pairs:
    n = q["count"]
    exact = nct_quantile(1 - q["confidence"], n - 1, math.sqrt(n) * stats.norm.ppf(q["part"]), a[0] * math.sqrt(n))
    return [(a[0], exact / math.sqrt(n))]


def check_two_sided(q: Question, a: Any) -> Pairs:
    n = q["count"]
    howe = stats.norm.isf((1 - q["part"]) / 2) * math.sqrt((n - 1) * (1 + 1 / n) / stats.chi2.ppf(1 - q["confidence"], n - 1))
    return [(a[0], two_sided(n, q["part"], q["confidence"])), (a[1], howe)]


def capability(r: random.Random) -> Question:
    return {"count": r.randint(3, 200), "mean": r.uniform(-1, 1), "deviation": r.uniform(0.3, 2), "lower": -4, "upper": 4,
            "confidence": r.choice([0.9, 0.95])}


def check_capability(q: Question, a: Any) -> Pairs:
    n, s, tail = q["count"], q["deviation"], (1 - q["confidence"]) / 2
    cp, (cpu, cpl) = 8 / (6 * s), ((4 - q["mean"]) / (3 * s), (q["mean"] + 4) / (3 * s))
    pairs = [(a[0][0], cp * math.sqrt(stats.chi2.ppf(tail, n - 1) / (n - 1))), (a[0][1], cp * math.sqrt(stats.chi2.isf(tail, n - 1) / (n - 1)))]
    scale = 3 * math.sqrt(n)
    for index, (least, most) in ((cpu, a[1]), (cpl, a[2])):
        pairs += [(tail, nct_more_than(scale * index, n - 1, scale * least)), (1 - tail, nct_more_than(scale * index, n - 1, scale * most))]
    cpk = min(cpu, cpl)
    pairs.append((a[3][1], cpk + stats.norm.isf(tail) * math.sqrt(1 / (9 * n) + cpk**2 / (2 * (n - 1)))))
    return pairs


def gauge(r: random.Random) -> Question:
    parts, operators, trials = r.randint(2, 10), r.randint(2, 3), r.randint(2, 3)
    spread = r.choice([0.0, 0.1, 0.5])
    of_part = [r.gauss(0, 1) for _ in range(parts)]
    of_operator = [r.gauss(0, 0.3) for _ in range(operators)]
    readings = [[[p + o + together + r.gauss(0, 0.2) for _ in range(trials)] for o in of_operator for together in [r.gauss(0, spread)]]
                for p in of_part]
    return {"readings": readings, "significance": 0.25}


def check_gauge(q: Question, a: Any) -> Pairs:
    y = np.array(q["readings"])
    parts, operators, trials = y.shape
    whole, by_part, by_operator, by_cell = y.mean(), y.mean(axis=(1, 2)), y.mean(axis=(0, 2)), y.mean(axis=2)
    squares = {"part": operators * trials * ((by_part - whole) ** 2).sum(), "operator": parts * trials * ((by_operator - whole) ** 2).sum(),
               "interaction": trials * ((by_cell - by_part[:, None] - by_operator[None, :] + whole) ** 2).sum()}
    within, free = ((y - by_cell[:, :, None]) ** 2).sum(), parts * operators * (trials - 1)
    degrees = {"part": parts - 1, "operator": operators - 1, "interaction": (parts - 1) * (operators - 1)}
    mean = {key: squares[key] / degrees[key] for key in squares}
    repeat = within / free
    kept = stats.f.sf(mean["interaction"] / repeat, degrees["interaction"], free) < q["significance"]
    pooled = (within + squares["interaction"]) / (free + degrees["interaction"])
    error, error_free = (mean["interaction"], degrees["interaction"]) if kept else (pooled, free + degrees["interaction"])
    pairs: Pairs = [(float(a["model"] == ("kept" if kept else "pooled")), 1.0)]
    for key, held, held_free in (("interaction", repeat, free), ("part", error, error_free), ("operator", error, error_free)):
        ss, df, f, p = a[key]
        pairs += [(ss, squares[key]), (df, degrees[key]), (f, mean[key] / held), (p, stats.f.sf(mean[key] / held, degrees[key], held_free))]
    components = a["components"]
    together = max(0.0, (mean["interaction"] - repeat) / trials) if kept else 0.0
    pairs += [(components["repeatability"], repeat if kept else pooled),
              (components["reproducibility"], max(0.0, (mean["operator"] - error) / (parts * trials)) + together),
              (components["part"], max(0.0, (mean["part"] - error) / (operators * trials)))]
    return pairs


def described(r: random.Random) -> Question:
    large = 10 ** r.uniform(-3, 7)
    return {"values": [large * (1 + 1e-6 * r.gauss(0, 1)) for _ in range(r.randint(3, 200))]}


def check_described(q: Question, a: Any) -> Pairs:
    x = [Fraction(value) for value in q["values"]]
    mean = sum(x) / len(x)
    squares = sum((value - mean) ** 2 for value in x)
    lag = sum((one - mean) * (other - mean) for one, other in zip(x, x[1:]))
    return [(a[0], float(mean)), (a[1], math.sqrt(squares / (len(x) - 1))), (a[2], float(lag / squares))]


def offset(r: random.Random) -> Question:
    return {"values": [r.gauss(3, 1) for _ in range(r.randint(2, 60))], "reference": r.uniform(2, 4), "confidence": r.choice([0.9, 0.95, 0.99])}


def check_offset(q: Question, a: Any) -> Pairs:
    x = np.array(q["values"])
    half = stats.t.isf((1 - q["confidence"]) / 2, len(x) - 1) * x.std(ddof=1) / math.sqrt(len(x))
    return [((a[1] - a[0]) / 2, half), ((a[0] + a[1]) / 2 + q["reference"], x.mean())]


def slope(r: random.Random) -> Question:
    return {"points": [(float(t), 0.1 * t + r.gauss(0, 1)) for t in range(r.randint(3, 60))], "confidence": r.choice([0.9, 0.95, 0.99])}


def check_slope(q: Question, a: Any) -> Pairs:
    found = stats.linregress(*zip(*q["points"]))
    half = stats.t.isf((1 - q["confidence"]) / 2, len(q["points"]) - 2) * found.stderr
    return [((a[0] + a[1]) / 2, found.slope), ((a[1] - a[0]) / 2, half)]


KINDS: Dict[str, Tuple[int, Callable[[random.Random], Question], Callable[[Question, Any], Pairs]]] = {
    "accepted": (4000, accepted, check_accepted),
    "lot_accepted": (2000, lot_accepted, check_lot_accepted),
    "quality": (1500, quality, check_quality),
    "outgoing_limit": (400, outgoing_limit, check_outgoing_limit),
    "finding": (1000, finding, check_finding),
    "zero_acceptance": (500, zero_acceptance, check_zero_acceptance),
    "draw": (300, drawn, check_draw),
    "variables": (400, variables, check_variables),
    "proportion": (1500, proportion, check_proportion),
    "one_sided": (400, factor, check_one_sided),
    "two_sided": (40, factor, check_two_sided),
    "capability": (300, capability, check_capability),
    "gauge": (300, gauge, check_gauge),
    "described": (300, described, check_described),
    "offset": (300, offset, check_offset),
    "slope": (300, slope, check_slope),
}


def off(found: float, expected: float) -> float:
    """By how much of itself; what is below any use is nought."""
    if found is None or math.isnan(found):
        return math.inf
    if found == expected or abs(found) < 1e-290 and abs(expected) < 1e-290:
        return 0.0
    return abs(found - expected) / max(abs(expected), 1e-290)


def ask(binary: str, questions: List[Question]) -> Iterator[Any]:
    lines = "".join(json.dumps(question) + "\n" for question in questions)
    done = subprocess.run([binary], input=lines, capture_output=True, text=True, timeout=600)
    if done.returncode:
        sys.exit(f"the program failed: {done.stderr}")
    return map(json.loads, done.stdout.splitlines())


def constants_of_ranges(binary: str) -> Pairs:
    """K1, K2 and K3 told from studies in which only one of the three varies, against the moments of a range, to four digits."""
    pairs = []
    for parts in range(2, 11):
        readings = [[[float(p)] * 2] * 2 for p in range(parts)]
        answer = next(ask(binary, [{"what": "gauge", "readings": readings, "significance": 0.25}]))
        pairs.append((round(math.sqrt(answer["by_ranges"]["part"]) / (parts - 1), 4), round(1 / math.sqrt(range_moments(parts)[1]), 4)))
    for trials in (2, 3):
        readings = [[[float(t) for t in range(trials)]] * 2] * 2
        answer = next(ask(binary, [{"what": "gauge", "readings": readings, "significance": 0.25}]))
        told = math.sqrt(answer["by_ranges"]["repeatability"]) / (trials - 1)
        pairs.append((round(told, 4), round(1 / range_moments(trials)[0], 4)))
    return pairs


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--times", type=float, default=1.0)
    arguments = parser.parse_args()
    r = random.Random(arguments.seed)
    compared = failed = 0
    for what, (count, question, check) in KINDS.items():
        questions = [{"what": what, **question(r)} for _ in range(max(1, int(count * arguments.times)))]
        worst, wrong = 0.0, 0
        answers = list(ask(arguments.binary, questions))
        if len(answers) != len(questions):
            sys.exit(f"{what}: {len(questions)} questions, {len(answers)} answers")
        for asked, answer in zip(questions, answers):
            for found, expected in check(asked, answer):
                by = off(found, expected)
                worst, compared = max(worst, by), compared + 1
                if by > RIGHT:
                    wrong += 1
                    if wrong <= 3:
                        print(f"FAIL {asked}: {found}, not {expected}")
        failed += wrong
        print(f"{'ok  ' if not wrong else 'FAIL'} {what:16} {len(questions):5} questions, off by at most {worst:.1e}")
    for found, expected in constants_of_ranges(arguments.binary):
        compared += 1
        # They are rounded to four digits in the book.
        if abs(found - expected) > 1.01e-4:
            failed += 1
            print(f"FAIL constant of a range: {found}, not {expected}")
    print(f"{compared} numbers compared, {failed} wrong")
    return 1 if failed or not compared else 0


if __name__ == "__main__":
    sys.exit(main())
