"""Draws a bad contact as a Markov chain of two states, has it flexed, and holds what was found against the chain's laws, by SciPy.

    python3 check_flex.py FLEXED_BINARY [--seed 1] [--breaks 40000]

Drawn are here, by NumPy: how long the contact rests and how long it is away, exponential both. What the program heard of that
must be the same breaks, to the microsecond; what it tells must follow the laws: Kolmogorov-Smirnov of the durations and of the
rests between, chi-square of its histogram, rate and share of time by their own spread. Exit status 1 if anything differs.
"""

import argparse
import json
import math
import subprocess
import sys
from typing import Any, Dict, List, Tuple

import numpy as np
from scipy import stats

BOUNDS_US = [0.0, 100.0, 1e3, 1e4, 1e5, 1e6, math.inf]
# A right program is called wrong once in so many times.
CHANCE = 1e-4
SIGMAS = 4.0


def drawn(random: np.random.Generator, rests_us: float, away_us: float, breaks: int) -> List[Tuple[int, int]]:
    """At whole microseconds; what would have no length, or no rest before it, is none."""
    rests = random.exponential(rests_us, breaks)
    aways = random.exponential(away_us, breaks)
    ends = np.cumsum(rests + aways)
    begins = np.rint(ends - aways).astype(int)
    ends = np.rint(ends).astype(int)
    chosen: List[Tuple[int, int]] = []
    last = 0
    for begin, end in zip(begins.tolist(), ends.tolist()):
        if last < begin < end:
            chosen.append((begin, end - begin))
            last = end
    return chosen


def heard(binary: str, question: Dict[str, Any]) -> Dict[str, Any]:
    run = subprocess.run([binary], input=json.dumps(question), capture_output=True, text=True, check=True)
    return json.loads(run.stdout)


def check(name: str, holds: bool, told: str) -> bool:
    print(f"  {'ok ' if holds else 'NOT'} {name}: {told}")
    return holds


def ks(name: str, durations: np.ndarray, mean_us: float) -> bool:
    # Rounded durations are spread over their microsecond again.
    spread = durations + np.random.default_rng(0).uniform(-0.5, 0.5, len(durations))
    found = stats.kstest(spread, stats.expon(scale=mean_us).cdf)
    return check(name, found.pvalue > CHANCE, f"D = {found.statistic:.4f}, p = {found.pvalue:.3f}")


def case(binary: str, random: np.random.Generator, rests_us: float, away_us: float, breaks: int) -> bool:
    post = int(random.integers(1, 5))
    injected = drawn(random, rests_us, away_us, breaks)
    ohm = random.uniform(0, 50, 4).round(3).tolist()
    answer = heard(binary, {"post": post, "ohm": ohm, "breaks": injected, "seed": int(random.integers(2**32))})
    print(f"post {post}, at rest {rests_us:.0f} us, away {away_us:.0f} us on the mean: {len(injected)} breaks")
    found = [(at, us) for at, lane, us in answer["found"] if lane == str(post)]
    good = check("the same breaks", found == injected and len(found) == len(answer["found"]), f"{len(found)} found")

    durations = np.array([us for _, us in found], dtype=float)
    begins = np.array([at for at, _ in found], dtype=float)
    rests = begins[1:] - (begins[:-1] + durations[:-1])
    good &= ks("durations", durations, away_us)
    good &= ks("rests between", rests, rests_us)

    lane = answer["lanes"][post - 1]
    law = stats.expon(scale=away_us)
    expected = np.diff(law.cdf(BOUNDS_US)) * len(durations)
    observed = np.array(lane["durations"], dtype=float)
    # The usual rule: bins of fewer than five belong to their neighbour.
    while len(expected) > 2 and expected.min() < 5:
        at = int(expected.argmin())
        to = at - 1 if at > 0 else 1
        expected[to] += expected[at]
        observed[to] += observed[at]
        expected, observed = np.delete(expected, at), np.delete(observed, at)
    if expected.min() >= 5:
        chi = stats.chisquare(observed, expected * observed.sum() / expected.sum())
        good &= check("histogram", chi.pvalue > CHANCE, f"chi2 = {chi.statistic:.1f} of {len(expected)}, p = {chi.pvalue:.3f}")
    good &= check("histogram's sum", sum(lane["durations"]) == lane["count"] == len(found), str(lane["durations"]))

    cycle, time = rests_us + away_us, float(answer["watched_us"])
    rate, share = 1 / cycle, away_us / cycle
    u_rate = math.sqrt(rate * (rests_us**2 + away_us**2) / cycle**2 / time)
    u_share = math.sqrt(2 * (rests_us * away_us)**2 / (cycle**3 * time))
    for name, told, law_says, u in [("rate", lane["count"] / time, rate, u_rate),
                                    ("share", lane["total_us"] / time, share, u_share)]:
        good &= check(name, abs(told - law_says) < SIGMAS * u, f"{(told - law_says) / u:+.1f} sigma")
    others = [one for one in answer["lanes"] if one["of"] != str(post)]
    return good & check("nobody else", all(one["count"] == one["steps"] == 0 for one in others), f"{len(others)} lanes")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("binary")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--breaks", type=int, default=40_000)
    arguments = parser.parse_args()
    random = np.random.default_rng(arguments.seed)
    good = True
    for rests_us, away_us in [(4e3, 1e3), (2e4, 3e2), (5e4, 3e4), (3e3, 5e3)]:
        good &= case(arguments.binary, random, rests_us, away_us, arguments.breaks)
    print("all as the chain has it" if good else "something differs")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
