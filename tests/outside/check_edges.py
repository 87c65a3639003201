"""Compares when the edge catcher sees a break or a touch with ngspice's transient analysis, near and far, short and long.

    python3 check_edges.py FLEX_BINARY [--write]

FLEX_BINARY is the example `flex`. It also says what the catcher can claim: by how much a break reads short, how much
resistance it takes for a break, and how far every level stands from the thresholds; `--write` puts that into
firmware/jig/edges.md, and without it that file must say the same. Exit status 1 if a crossing is off by more than 0.2 us, or
if a claim does not hold.
"""

import json
import re
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Dict, List, Tuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "jig"))

import parts as parts_list
import scene_netlist
import spice
from jig_netlist import Jig, State, netlist
from run_netlist import Conductor, Run, Short

DOCUMENT = Path(__file__).resolve().parents[2] / "firmware/jig/edges.md"
BEGIN, END = "<!-- by tests/outside/check_edges.py -->", "<!-- end -->"

BAR_S = 0.2e-6
SEED = 11
# The drives settle until the contact moves, in the simulated jig's time and in ngspice's.
MOVES_S, SPICE_MOVES_S = 0.2, 20e-6
RUNS = [(1.0, 0.0), (1.0, 1.0), (30.0, 1.0), (150.0, 0.0), (150.0, 0.5), (150.0, 1.0)]  # metres, place
MICROS = (20.0, 200.0)
PLACES = {0.0: "near", 0.5: "middle", 1.0: "far"}
# What is put in place of a contact, to be found again in the netlist; away from rest it is the other.
MARK_OHM, REST_OHM, AWAY_OHM, TOUCH_OHM = 7.654321, 0.05, 1e9, 1.0
# It takes so long to move, for ngspice's sake.
SLOPE_S = 20e-9
# Each of two ways to flex a run: drives, plug, and what moves.
BREAKS = [("HHLL", True, (post,)) for post in (1, 2, 3, 4)]
TOUCHES = [("HHLL", False, (1, 3)), ("HHLL", False, (2, 4)), ("HLHL", False, (1, 2)), ("HLHL", False, (3, 4))]

SCENE = """about = "Flexed."
plug = "{plug}"

[run]
length_m = {length_m}
ohm_per_km = 20.95
copper_c = 20.0
arrives_at = [1, 2, 3, 4]

[[flexed]]
of = {of}
at = {at}
from_s = {from_s}
moves = {{ at = [[0.0, {ms}]] }}
"""


def scene(drives: str, plug: bool, moving: Tuple[int, ...], length_m: float, at: float, micros: float) -> str:
    of = (f"{{ conductor = {{ post = {moving[0]} }} }}" if len(moving) == 1
          else f"{{ touch = {{ posts = {list(moving)}, ohm = {TOUCH_OHM} }} }}")
    return SCENE.format(plug="in" if plug else "out", length_m=length_m, of=of, at=at, from_s=MOVES_S, ms=micros / 1e3)


def simulated(binary: str, text: str, drives: str) -> Tuple[Dict, int, List[Dict]]:
    with tempfile.NamedTemporaryFile("w", suffix=".toml") as file:
        file.write(text)
        file.flush()
        done = subprocess.run([binary, file.name, str(SEED), drives, str(MOVES_S + 0.01)], capture_output=True, text=True)
    if done.returncode:
        raise SystemExit(f"{binary}: {done.stderr}")
    first, *edges = map(json.loads, done.stdout.splitlines())
    return first["parts"], first["carry"], edges


def moved(run: Run, moving: Tuple[int, ...], at: float, ohm: float) -> Run:
    """The run with a contact of so many ohms where it moves."""
    if len(moving) == 2:
        return replace(run, shorts=(Short(moving, at, ohm),))
    conductors = list(run.conductors)
    conductors[moving[0] - 1] = replace(conductors[moving[0] - 1], joints=((at, ohm),))
    return replace(run, conductors=tuple(conductors))


def switched(elements: List[str], tag: str, rest: float, away: float, micros: float) -> List[str]:
    """The marked resistor as a switch that is away for so long."""
    lines, found = [], 0
    for element in elements:
        name, a, b, value = (element.split() + ["", "", ""])[:4]
        if name[0] == "R" and value == repr(MARK_OHM):
            found += 1
            t0, t1, slope = SPICE_MOVES_S, SPICE_MOVES_S + micros * 1e-6, SLOPE_S / 2.0
            lines += [f"Vm{tag} m{tag} 0 PWL(0 0 {t0 - slope!r} 0 {t0 + slope!r} 1 {t1 - slope!r} 1 {t1 + slope!r} 0)",
                      f"B{tag} {a} {b} I = v({a},{b})*({1.0 / rest!r} + {1.0 / away - 1.0 / rest!r}*v(m{tag}))"]
        else:
            lines.append(element)
    if found != 1:
        raise SystemExit(f"{found} marked resistors")
    return lines


def crossings(decks: List[Tuple[List[str], str, float]], seconds: float) -> List[List[float]]:
    """(element lines, node, volts) -> when it passes those volts, either way, the first two times."""
    lines = ["* flexed"]
    for n, (elements, node, volts) in enumerate(decks):
        lines += elements
        lines += [f".meas tran x{n}y{k} WHEN v({node})={volts!r} CROSS={k}" for k in (1, 2)]
    lines += [".options reltol=1e-5 vntol=1e-7 method=gear", f".tran 0.2u {seconds!r} 0 0.2u", ".end", ""]
    with tempfile.TemporaryDirectory(prefix="outside-") as folder:
        deck = Path(folder, "deck.cir")
        deck.write_text("\n".join(lines), encoding="ascii")
        done = subprocess.run([spice.require(), "-b", str(deck)], cwd=folder, capture_output=True, text=True, timeout=600)
    said = done.stdout + done.stderr
    found = {(int(n), int(k)): float(at) for n, k, at in re.findall(r"^x(\d+)y(\d)\s*=\s*(\S+)", said, re.MULTILINE)}
    if not found:
        raise SystemExit(f"ngspice finds nothing (exit status {done.returncode}):\n{said[-2000:]}")
    return [[found[n, k] - SPICE_MOVES_S for k in (1, 2) if (n, k) in found] for n in range(len(decks))]


def compared(binary: str) -> Tuple[int, List[str], Dict]:
    """How many crossings, what is wrong, and by how much a break or touch reads short: by length, place and kind."""
    wrong, short, count = [], {}, 0
    with ThreadPoolExecutor() as both:
        parts_of = list(both.map(lambda micros: compared_of(binary, micros), MICROS))
    for own_count, own_wrong, own_short in parts_of:
        count += own_count
        wrong += own_wrong
        for key, values in own_short.items():
            short.setdefault(key, []).extend(values)
    return count, wrong, short


def compared_of(binary: str, micros: float) -> Tuple[int, List[str], Dict]:
    """Of one length of time."""
    wrong, short, count = [], {}, 0
    cases, decks = [], []
    for drives, plug, moving in BREAKS + TOUCHES:
        for length_m, at in RUNS:
            text = scene(drives, plug, moving, length_m, at, micros)
            parts, carry, edges = simulated(binary, text, drives)
            if any(abs(is_ / should - 1.0) > WINDOW_WITHIN for is_, should in zip(parts["window_volts"], WINDOW_V)):
                wrong.append(f"thresholds of the simulated jig are {parts['window_volts']}, bom.csv's parts make {WINDOW_V}")
            if carry != (0b1111 if plug else 0):
                wrong.append(f"{moving} {length_m} m at {at}: posts {carry:04b} carry at rest")
            told = scene_netlist.Scene.read(text)
            run = told.run(parts, plug, 0.0, scene_netlist.steady_and_phasor(0.0))
            rest, away = (REST_OHM, AWAY_OHM) if plug else (AWAY_OHM, TOUCH_OHM)
            jig = scene_netlist.jig(parts)
            for post in moving:
                tag = f"_{len(decks)}"
                elements = netlist(jig, moved(run, moving, at, MARK_OHM), State(drives), tag)
                high = drives[post - 1] == "H"
                volts = parts["window_volts"][1 if high else 0]
                decks.append((switched(elements, tag, rest, away, micros), f"n{post}{tag}", volts))
                mine = [e["seconds"] - MOVES_S for e, before in zip(edges, [{"carry": carry}] + edges)
                        if (e["carry"] ^ before["carry"]) >> (post - 1) & 1]
                cases.append((drives, moving, post, length_m, at, mine))
    by_spice = crossings(decks, SPICE_MOVES_S + micros * 1e-6 + 150e-6)
    for (drives, moving, post, length_m, at, mine), theirs in zip(cases, by_spice):
        what = f"{drives} {moving}, post {post}, {length_m} m at {at}, {micros} us"
        if len(mine) != 2 or len(theirs) != 2:
            wrong.append(f"{what}: edges at {mine}, by ngspice {theirs}")
            continue
        count += 2
        if max(abs(a - b) for a, b in zip(mine, theirs)) > BAR_S:
            wrong.append(f"{what}: edges at {mine}, by ngspice {theirs}")
        key = (len(moving), length_m, at)
        short.setdefault(key, []).append(micros - (theirs[1] - theirs[0]) * 1e6)
    return count, wrong, short


def levels(run: Run, state: State) -> List[float]:
    got = spice.solve([netlist(NOMINAL, run, state, "_0")])
    return [got[f"n{post}_0"] for post in (1, 2, 3, 4)]


NOMINAL = Jig(every_node_ohm=scene_netlist.EVERY_NODE_OHM)


def _window_v() -> Tuple[float, float]:
    """The two thresholds, of the parts that are to be fitted."""
    bom = parts_list.table()
    above, between, below = (parts_list.value(bom[name]) for name in ("R126", "R127", "R128"))
    return tuple(NOMINAL.supply_v * ohm / (above + between + below) for ohm in (below, below + between))


WINDOW_V = _window_v()
# A divider of 1 % parts, and the rail.
WINDOW_WITHIN = 0.025


def statics() -> List[str]:
    """Levels of a good run, of each break, and how much resistance it takes, by ngspice."""
    lines = []
    for ohm, what in ((0.1, "short"), (50.0, "of 50 Ω a conductor")):
        run = Run(tuple(Conductor(ohm, k) for k in range(1, 5)))
        rest = levels(run, State("HHLL"))
        inside = min(min(v - WINDOW_V[0], WINDOW_V[1] - v) for v in rest)
        lines.append(f"- A good run, {what}: sense nodes between {min(rest):.2f} and {max(rest):.2f} V, {inside:.2f} V and more from a threshold.")
        worst = 9.0
        for broken in range(1, 5):
            now = levels(moved(run, (broken,), 0.5, AWAY_OHM), State("HHLL"))
            for post, volts in enumerate(now, 1):
                beyond = max(WINDOW_V[0] - volts, volts - WINDOW_V[1])
                margin = beyond if post == broken else -beyond
                worst = min(worst, margin)
        lines.append(f"- One of its conductors broken: its own node at the rail, the others' between the thresholds; the nearest is {worst:.2f} V from one.")
        if worst < 0.1:
            lines.append("FAIL")
    run = Run(tuple(Conductor(1.0, k) for k in range(1, 5)))
    needs = []
    for post in range(1, 5):
        low, high = 1.0, 1e6
        while high / low > 1.001:
            ohm = (low * high) ** 0.5
            volts = levels(moved(run, (post,), 0.5, ohm), State("HHLL"))[post - 1]
            low, high = (low, ohm) if volts < WINDOW_V[0] or volts > WINDOW_V[1] else (ohm, high)
        needs.append(low)
    lines.append(f"- It takes {min(needs):,.0f} to {max(needs):,.0f} Ω in one conductor for a break; less is a step, which the converters see.")
    needs = []
    for pair, drives in (((1, 3), "HHLL"), ((1, 2), "HLHL")):
        low, high = 1.0, 1e6
        while high / low > 1.001:
            ohm = (low * high) ** 0.5
            now = levels(moved(replace(run, ring_ohm=None), pair, 0.5, ohm), State(drives))
            touches = all(WINDOW_V[0] < now[post - 1] < WINDOW_V[1] for post in pair)
            low, high = (ohm, high) if touches else (low, ohm)
        needs.append(low)
    lines.append(f"- Two conductors touch below {min(needs):,.0f} Ω.")
    return lines


def table(short: Dict) -> List[str]:
    lines = ["| length | place | a break reads short by | a touch reads long by |", "|---:|---|---:|---:|"]
    for length_m, at in RUNS:
        touches = [-value for value in short[2, length_m, at]]
        by = [f"{min(values):.1f} to {max(values):.1f} µs" for values in (short[1, length_m, at], touches)]
        lines.append(f"| {length_m:.0f} m | {PLACES[at]} | {by[0]} | {by[1]} |")
    return lines


def main() -> int:
    if len(sys.argv) < 2:
        print(__doc__, file=sys.stderr)
        return 1
    spice.require()
    count, wrong, short = compared(sys.argv[1])
    for one in wrong[:10]:
        print(f"FAIL {one}")
    text = statics()
    failed = bool(wrong) or count < 250 or "FAIL" in text
    worst = max(abs(value) for values in short.values() for value in values)
    print(f"{count} crossings compared, {len(wrong)} wrong; a break or touch is off by {worst:.1f} us at most")
    if worst > 20.0:
        print("FAIL the claim of 20 us does not hold")
        failed = True
    stands = "\n".join([BEGIN, *table(short), "", *text, END])
    print(stands)
    document = DOCUMENT.read_text(encoding="utf-8")
    at, to = document.index(BEGIN), document.index(END) + len(END)
    if "--write" in sys.argv:
        DOCUMENT.write_text(document[:at] + stands + document[to:], encoding="utf-8")
    elif document[at:to] != stands:
        print(f"FAIL {DOCUMENT.name} says otherwise: check_edges.py --write")
        failed = True
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
