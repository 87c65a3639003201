"""Checks firmware/jig/front-end.cir with its clamps in: what a live run does to the jig while its relays are closed.

    python3 check_protection.py

ngspice reads the file as it stands. First its own reading is compared with front_end.py's, clamps
taken out, so that both speak of one circuit; and clamps must rest while nothing is live. Then 24
and 30 VAC arrive between posts, whatever they are driven to, with no fuse blown and the PTC as when
cold: rail, pads, converters' inputs and resistors must bear it. Exit status 1 if not.
"""

import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from typing import Dict, List, Tuple

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "../jig"))

import front_end
import parts
import spice
from jig_netlist import OUT, POST, Jig, State, netlist
from run_netlist import run_netlist, straight

BAR_V = 1e-7
# What clamps may change while nothing is live: what the Schottky pairs leak, 10 nA each, in some kilohms. [judgement]
REST_V = 1e-4
PORTS = (*(f"{port}{k}" for port in ("pin", "ref") for k in (1, 2, 3, 4)), "pu1pin", "pu2pin", "rail",
         *(f"wire{k}" for k in (1, 2, 3, 4)))
HERTZ, SOURCE_OHM = 60.0, 0.5
# A pad's resistance at its lowest. [judgement] RP2040 data sheet 5.3: the most that a supply may be.
PAD_OHM, RAIL_MAX_V = 25.0, 3.63
MOST_A = {
    # [judgement] for the milliseconds until the relays have opened; the strongest drive is called 12 mA.
    "pad": 20e-3,
    # RP2040 data sheet 5.2.3: sum of what pads give, and of what they take.
    "all pads": 50e-3,
    # ADS1115 data sheet SBAS444E, absolute maximum ratings: into any input. [from memory] All that reaches N counts.
    "input": 10e-3,
}
# What bom.csv buys them for.
MOST_W = {part: parts.watts(parts.table()[part]) for part in ("R2", "R1", "R4", "RT1")}
# Each part whose current is looked at: its ends and ohms.
PARTS = {"R2": ("xjig.g{k}", "xjig.xpost{k}.gf", POST["r_k"]), "R1": ("pin{k}", "xjig.xpost{k}.p", POST["r_pin_series"]),
         "R4": ("xjig.xpost{k}.sr", "xjig.n{k}", POST["r_sense"]), "RT1": ("xjig.xpost{k}.p", "xjig.g{k}", POST["r_ptc"])}
PEAK_OF = {"R2": "loop", "R1": "pad", "R4": "input"}


@dataclass(frozen=True)
class Case:
    name: str
    peak_v: float
    joined: bool  # posts 2, 3 and 4 are one, so that post 1 bears what three can take
    drives: Tuple[str, ...]


OF_TWO = tuple(a + b + "ZZ" for a in "HLZ" for b in "HLZ")
OF_FOUR = ("ZZZZ", "HLLL", "LHHH", "HHHH", "LLLL")
CASES = (Case("24 VAC between 1 and 2", 33.9, False, OF_TWO), Case("24 VAC between 1 and the rest", 33.9, True, OF_FOUR),
         Case("30 VAC between 1 and the rest", 42.4, True, OF_FOUR))


def as_it_stands(drive: str, clamp: float) -> List[str]:
    """A deck that leaves the sub-circuits to ngspice: the posts driven so, pulls off, contacts closed."""
    lines = [f'.include "{os.path.abspath(front_end.FILE)}"', f"Xjig {' '.join(PORTS)} jig clamp={clamp}"]
    for k, level in enumerate(drive, 1):
        # A pad that is driven takes from the rail or gives to ground.
        lines.append(f"Rpad{k} pin{k} {'rail' if level == 'H' else '0'} {1e12 if level == 'Z' else PAD_OHM}")
        lines += [f"Cref{k} ref{k} 0 5e-12", f"Rref{k} ref{k} 0 1e11"]
    return lines + ["Rpu1 pu1pin 0 1e12", "Rpu2 pu2pin 0 1e12"]


def quiet(drive: str, clamp: float) -> List[float]:
    """What NODES are at with a short run and the plug on the posts, in volts."""
    lines: List[str] = []
    run_netlist(RUN, "", lines, lambda name, a, b, ohm: lines.append(f"R{name} {a} {b} {ohm!r}"))
    vectors = [f"v(xjig.{node})" for node in NODES]
    got = run_ngspice(as_it_stands(drive, clamp) + lines + ["Vrail rail 0 3.3"], "op", vectors)
    return [got[vector][-1] for vector in vectors]


def same_circuit() -> List[str]:
    """What differs between ngspice's own reading of the file and front_end.py's; and what clamps do that should be at rest."""
    wrong = []
    jig = Jig(gpio_ohm=PAD_OHM, series_ohm=POST["r_k"] + POST["r_fuse"], sense_ohm=POST["r_sense"] + POST["r_fuse"] + 0.05)
    for drive in ("HLZZ", "ZHLZ", "HHHH", "LLLL", "ZZZH"):
        other = spice.solve([netlist(jig, RUN, State(drive), "")])
        for node, out_v, in_v in zip(NODES, quiet(drive, OUT), quiet(drive, 0.1)):
            if not abs(out_v - other[node]) <= BAR_V:
                wrong.append(f"{drive}: {node} is at {out_v:.9f} V as ngspice reads the file, {other[node]:.9f} V as front_end.py "
                             "does: one of the two takes a line of it otherwise")
            if not abs(in_v - out_v) <= REST_V:
                wrong.append(f"{drive}: {node} is at {in_v:.6f} V with clamps, {out_v:.6f} V without: one conducts within the rails; "
                             "is it the wrong way round, or does it leak?")
    return wrong


RUN = straight(18, 30, 25)
NODES = [node + str(k) for node in ("n", "g", "d", "j") for k in (1, 2, 3, 4)]


def run_ngspice(deck: List[str], analysis: str, vectors: List[str]) -> Dict[str, List[float]]:
    """What each vector is at each point; names as ngspice prints them."""
    with tempfile.TemporaryDirectory(prefix="outside-") as folder:
        with open(os.path.join(folder, "deck.cir"), "w", encoding="ascii") as f:
            f.write("\n".join(["* as it stands", *deck, ".options reltol=1e-7 vntol=1e-9 abstol=1e-12", ".control",
                               "set filetype=ascii", "set numdgt=15", analysis,
                               "wrdata out.txt " + " ".join(vectors), "quit 0", ".endc", ".end", ""]))
        done = subprocess.run([spice.require(), "-b", "deck.cir"], cwd=folder, capture_output=True, text=True, timeout=120)
        path = os.path.join(folder, "out.txt")
        if not os.path.exists(path):
            raise spice.SpiceError(f"ngspice gave no result for {deck[0]}:\n{done.stdout}{done.stderr}")
        with open(path, encoding="ascii") as f:
            rows = [[float(word) for word in line.split()] for line in f]
    # wrdata writes the scale before every vector.
    return {vector: [row[2 * n + 1] for row in rows] for n, vector in enumerate(vectors)}


def live(case: Case, drive: str) -> Dict[str, float]:
    """The worst of all posts, over a period of which the one before has passed; watts are its mean."""
    deck = as_it_stands(drive, 0.1)
    deck += ["Xsupply rail supply", f"Vlive live wire2 DC 0 SIN(0 {case.peak_v} {HERTZ})", f"Rlive live wire1 {SOURCE_OHM}"]
    deck += [f"Rjoined{k} wire2 wire{k} 0.01" for k in (3, 4) if case.joined]
    period_s = 1.0 / HERTZ
    ends = {f"{part}{k}": (a.format(k=k), b.format(k=k)) for part, (a, b, _) in PARTS.items() for k in (1, 2, 3, 4)}
    vectors = ["v(rail)", *sorted({f"v({end})" for pair in ends.values() for end in pair})]
    got = run_ngspice(deck, f"tran 20u {2 * period_s} {period_s} 20u", vectors)
    worst = {"rail": max(got["v(rail)"]), **dict.fromkeys(("loop", "pad", "input"), 0.0), **dict.fromkeys(MOST_W, 0.0)}
    pads: List[List[float]] = []
    for name, (a, b) in ends.items():
        part, ohm = name[:-1], PARTS[name[:-1]][2]
        amps = [(x - y) / ohm for x, y in zip(got[f"v({a})"], got[f"v({b})"])]
        if part in PEAK_OF:
            worst[PEAK_OF[part]] = max(worst[PEAK_OF[part]], *(abs(one) for one in amps))
        if part == "R1":
            pads.append(amps)
        worst[part] = max(worst[part], sum(one * one for one in amps) / len(amps) * ohm)
    worst["all pads"] = max(max(sum(one for one in at if one > 0), -sum(one for one in at if one < 0)) for at in zip(*pads))
    return worst


def beyond(worst: Dict[str, float]) -> List[str]:
    """What is too much."""
    found = [f"the rail reaches {worst['rail']:.3f} V, may {RAIL_MAX_V} V"] * (worst["rail"] > RAIL_MAX_V)
    for what, most_a in MOST_A.items():
        found += [f"{what}: {worst[what] * 1e3:.1f} mA, may be {most_a * 1e3:.0f} mA"] * (worst[what] > most_a)
    return found + [f"{part} bears {worst[part]:.2f} W, is bought for {most} W" for part, most in MOST_W.items() if worst[part] > most]


def main() -> int:
    spice.require()
    wrong = same_circuit()
    print(f"{'FAIL' if wrong else 'ok  '} front-end.cir, as ngspice reads it and as front_end.py does: the same circuit within 0.1 uV, clamps at rest")
    for case in CASES:
        for drive in case.drives:
            worst = live(case, drive)
            found = beyond(worst)
            watts = ", ".join(f"{part} {worst[part]:.3f}" for part in MOST_W)
            amps = ", ".join(f"{what} {worst[what] * 1e3:.1f}" for what in ("loop", *MOST_A))
            print(f"{'FAIL' if found else 'ok  '} {case.name} on {drive}: rail {worst['rail']:.3f} V; {amps} mA; {watts} W")
            wrong += [f"{case.name} on {drive}: {one}; change the part in firmware/jig/front-end.cir and bom.csv, or the limit "
                      "here with its source" for one in found]
    for one in wrong:
        print(f"FAIL {one}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
