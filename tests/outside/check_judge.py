"""Lets the judge read captures made by ngspice and compares what it says with the truth.

    python3 check_judge.py RUNPROOF_BINARY [--groups asked,points,...] [--keep DIR]

Exit status 1 if anything is missing or differs. A stated resistance is one of the wire alone (the
judge subtracts the far contact's mean), so |R - wire| <= U is demanded; the difference from wire
and far contact together is printed beside it.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from typing import List, Optional, Tuple

import make_captures
import spice

MAP_KINDS = {"reversed-pair", "crossed"}
# An interval this wide would hold the truth without telling anything about a limit of 3 ohm.
USEFUL_OHM, USEFUL_SHARE = 0.25, 0.03
# With one conductor open no reading is free of the others' resistance: the series resistors' own
# tolerance is all that says how large the ohm is, and 1 % of the plug's 75 ohm is 0.75 ohm.
USEFUL_WITH_AN_OPEN_OHM = 2.0
# Two relays and jaws of which a third is seen.
NEAR_CONTACTS_OHM = 0.15
# Of the run: the place of 0.8 ohm on 30 m of 18 AWG, 0.64 ohm a conductor, with clips of 0 to 0.1 ohm.
USEFUL_PLACE = 0.3
NAMES = ("data+", "data-", "common", "supply")


def judge(binary: str, path: str) -> Tuple[Optional[dict], str]:
    """The judge's answer, or None and why there is none. Its exit status may tell the verdict."""
    try:
        done = subprocess.run([binary, "judge", path, "--json"], capture_output=True, text=True, timeout=60)
    except (OSError, subprocess.TimeoutExpired) as e:
        return None, f"did not run: {e}"
    try:
        answer = json.loads(done.stdout)
    except json.JSONDecodeError:
        said = (done.stderr or done.stdout).strip().splitlines()
        return None, f"no JSON (exit status {done.returncode}): {said[0] if said else 'nothing said'}"
    if not isinstance(answer, dict):
        return None, "the JSON is not an object"
    return answer, ""


def compare(want: dict, got: dict) -> Tuple[List[str], dict]:
    """(what differs, figures)."""
    wrong: List[str] = []
    if got.get("verdict") != want["verdict"]:
        wrong.append(f"verdict {got.get('verdict')!r}, should be {want['verdict']!r}")

    findings = got.get("findings")
    if not isinstance(findings, list):
        wrong.append("no list of findings")
        findings = []
    kinds = sorted(str(f.get("kind")) for f in findings)
    if want["finding_kinds"] == ["*map*"]:
        if not kinds or set(kinds) - MAP_KINDS:
            wrong.append(f"findings {kinds}, should be of {sorted(MAP_KINDS)}")
    elif want["finding_kinds"] is not None and sorted(set(kinds)) != sorted(want["finding_kinds"]):
        wrong.append(f"findings {kinds}, should be {want['finding_kinds']}")
    if want["finding_posts"] is not None:
        posts = sorted({p for f in findings for p in (f.get("posts") or [])})
        if posts != sorted(want["finding_posts"]):
            wrong.append(f"findings name posts {posts}, should be {want['finding_posts']}")

    if want["between_ohm"] is not None and findings:
        r, u = findings[0].get("value"), findings[0].get("expanded_uncertainty")
        # What the near contacts add is not taken off a short.
        if not isinstance(r, (int, float)) or not isinstance(u, (int, float)) \
                or not -u <= r - want["between_ohm"] <= u + NEAR_CONTACTS_OHM:
            wrong.append(f"{r!r} ohm +/- {u!r} between the conductors, should be {want['between_ohm']:g}")

    if want["fraction"] is not None:
        place = (findings[0].get("location") or {}).get("fraction") if findings else None
        if place is None or not place["least"] <= want["fraction"] <= place["most"]:
            wrong.append(f"placed at {place}, should be at {want['fraction']:g}")
        elif place["most"] - place["least"] > USEFUL_PLACE:
            wrong.append(f"placed from {place['least']:.2f} to {place['most']:.2f} of the run, which says too little")

    figures = {"worst": None, "u": None, "with_contact": None, "ratio": None}
    conductors = {c.get("post"): c for c in got.get("conductors") or [] if isinstance(c, dict)}
    for post in (1, 2, 3, 4):
        c = conductors.get(post)
        if c is None:
            wrong.append(f"post {post} is missing")
            continue
        name = c.get("name")
        if name != NAMES[post - 1]:
            wrong.append(f"post {post} is called {name!r}, should be {NAMES[post - 1]!r}")
        if want["reaches"] is not None and c.get("reaches") != want["reaches"][post - 1]:
            wrong.append(f"post {post} reaches {c.get('reaches')}, should reach {want['reaches'][post - 1]}")
        wire, full = want["wire_ohm"][post - 1], want["resistance_ohm"][post - 1]
        r, u = c.get("resistance_ohm"), c.get("expanded_uncertainty_ohm")
        if wire is None:
            continue
        if not isinstance(r, (int, float)) or not isinstance(u, (int, float)):
            wrong.append(f"post {post}: resistance {r!r}, uncertainty {u!r}")
            continue
        error = r - wire
        useful = USEFUL_WITH_AN_OPEN_OHM if None in want["wire_ohm"] else USEFUL_OHM
        if u > useful + USEFUL_SHARE * wire:
            wrong.append(f"post {post}: an uncertainty of {u:.3f} ohm on {wire:.3f} ohm says too little")
        if not abs(error) <= u:
            wrong.append(f"post {post}: {r:.4f} ohm +/- {u:.4f}, wire {wire:.4f}, with contact {full:.4f}")
        if u > 0 and (figures["ratio"] is None or abs(error) / u > figures["ratio"]):
            figures = {"worst": error, "u": u, "with_contact": r - full, "ratio": abs(error) / u}
    return wrong, figures


def main() -> int:
    ask = argparse.ArgumentParser(description="Judge captures made by ngspice and compare with the truth.")
    ask.add_argument("binary")
    ask.add_argument("--groups", help="comma-separated; default all")
    ask.add_argument("--keep", help="write the captures to this folder and leave them there")
    args = ask.parse_args()
    spice.require()
    binary = os.path.abspath(args.binary)
    if not os.access(binary, os.X_OK) or not os.path.isfile(binary):
        print(f"no program at {args.binary}: build it first (cargo build --release)", file=sys.stderr)
        return 1
    with tempfile.TemporaryDirectory(prefix="outside-captures-") as temp:
        folder = args.keep or temp
        expected = make_captures.make(folder, args.groups.split(",") if args.groups else None)
        passed = failed = 0
        print(f"{'capture':34} {'verdict':12} {'R-wire':>9} {'U':>8} {'|..|/U':>7} {'R-wire-contact':>15}")
        for name, want in expected.items():
            got, why = judge(binary, os.path.join(folder, want["file"]))
            wrong, figures = ([why], {}) if got is None else compare(want, got)
            verdict = "-" if got is None else str(got.get("verdict"))
            row = f"{name:34} {verdict:12}"
            if figures.get("worst") is not None:
                row += (f" {figures['worst']:+9.4f} {figures['u']:8.4f} {figures['ratio']:7.2f}"
                        f" {figures['with_contact']:+15.4f}")
            print(row.rstrip())
            for w in wrong:
                print(f"    FAIL {w}")
            passed += not wrong
            failed += bool(wrong)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
