"""Writes one capture per situation, solved by ngspice, and expected.json with what must come out.

    python3 make_captures.py OUT_DIR [--groups asked,points,...]

The captures hold what the capture format asks for and nothing of the truth; the truth is in
expected.json. No noise unless a situation says so; volts are rounded to the converter's step.
"""

import argparse
import itertools
import json
import os
import random
import sys
from dataclasses import dataclass, field, replace
from typing import Dict, List, Optional, Sequence, Tuple

import spice
from open_phase import PAIRS, against, open_phase, pair_selected
from jig_netlist import Jig, LSB_V, State, channel_nodes, netlist
from run_netlist import Conductor, RING_OHM, Run, straight, wire_ohm, with_open, with_short

# Noise of one conversion at 860 SPS: SBAS444E table 6-1, peak to peak / 6.6.
NOISE_V = {4.096: 266.93e-6 / 6.6, 2.048: 118.63e-6 / 6.6, 1.024: 64.26e-6 / 6.6, 0.256: 35.83e-6 / 6.6}
PATTERN_US = 9090
SETTLE_US = 600
SLOT_US = 1740


@dataclass(frozen=True)
class Converter:
    """Errors of one converter; SBAS444E: gain within 0.15 %, offset within 3 LSB."""

    gain: Dict[float, float] = field(default_factory=dict)  # by full scale, relative error
    offset_lsb: float = 0.0


@dataclass(frozen=True)
class Situation:
    name: str
    run: Run
    verdict: str
    kinds: Optional[Tuple[str, ...]] = ()  # all must be there and no other; None: not looked at
    posts: Optional[Tuple[int, ...]] = None  # the posts the finding names
    group: str = "asked"
    reaches: Optional[Tuple[Optional[int], ...]] = None  # None: the run's own
    check_resistance: bool = True
    between_ohm: Optional[float] = None  # what the finding must read between its posts
    fraction: Optional[float] = None  # how far along the run the finding must say it is
    check_reaches: bool = True
    jig: Jig = Jig()
    # What the head of the capture says of jig and plug; the parts themselves may differ from it.
    head_series_ohm: float = 330.0
    head_series_tolerance: float = 0.01
    head_ring_ohm: Tuple[float, ...] = RING_OHM
    u1: Converter = Converter()
    u2: Converter = Converter()
    noise_seed: Optional[int] = None
    least: bool = False  # only what judging needs, each once
    breakage: str = ""  # "cut": no end line; "lost": the link broke; "gap": a pattern is missing


# ---------------------------------------------------------------------------------------------
# situations

def situations() -> List[Situation]:
    out: List[Situation] = []
    good = straight(18, 30, 25)
    out += [
        Situation("good-run", good, "pass"),
        Situation("reversed-pair", straight(18, 30, 25, (2, 1, 3, 4)), "fail", ("reversed-pair",), (1, 2)),
        Situation("crossed-supply", straight(18, 30, 25, (1, 4, 3, 2)), "fail", ("crossed",), (2, 4)),
        Situation("open-supply", with_open(good, 4, 0.5), "fail", ("open",), (4,)),
        Situation("no-plug", replace(good, ring_ohm=None), "cannot-tell", ("no-end-plug",),
                  reaches=(None,) * 4, check_resistance=False),
        Situation("thin-supply", straight(24, 150, 25), "fail", ("high-resistance",), (3, 4)),
    ]
    for awg, metres, celsius in (
        (16, 1, -20), (16, 150, 60), (18, 1, 25), (18, 100, 60), (20, 3, 0), (20, 50, 45),
        (22, 10, -20), (22, 40, 60), (24, 1, 60), (24, 30, 25), (24, 35, -20),
    ):
        name = f"good-awg{awg}-{metres}m-{'minus' if celsius < 0 else ''}{abs(celsius)}c"
        out.append(Situation(name, straight(awg, metres, celsius), "pass", group="points"))

    # Every other way in which four conductors can reach four terminals.
    for to in itertools.permutations((1, 2, 3, 4)):
        if to in ((1, 2, 3, 4), (2, 1, 3, 4), (1, 4, 3, 2)):
            continue
        moved = tuple(k for k, t in enumerate(to, 1) if k != t)
        out.append(Situation("map-" + "".join(map(str, to)), straight(18, 30, 25, to), "fail",
                             ("*map*",), moved, group="maps"))
    for post, at in itertools.product((1, 2, 3, 4), (0.02, 0.3, 0.98)):
        at_open = with_open(good, post, at)
        out.append(Situation(f"open-{post}-at-{round(at * 100)}", at_open, "fail", ("open",), (post,), group="opens"))

    # Parts inside their tolerances, converters with errors, conductors that differ by 1 %, noise.
    parts = Jig(
        series_ohm=(332.6, 327.5, 331.1, 328.2),  # 330 ohm, 1 %
        drive_jaw_ohm=(0.01, 0.05, 0.02, 0.03), sense_jaw_ohm=(0.04, 0.01, 0.03, 0.02),
        supply_v=3.27, gpio_ohm=38.0,
    )
    ring = tuple(o * (1 + e) for o, e in zip(RING_OHM, (6e-4, -8e-4, 3e-4, -5e-4)))  # 0.1 %
    u1 = Converter({4.096: 5e-4, 2.048: 3e-4, 1.024: -2e-4}, 1.4)
    u2 = Converter({4.096: -6e-4}, -2.2)
    for awg, metres, celsius in ((18, 30, 25), (16, 150, 45), (24, 30, 25), (20, 2, 10)):
        ohm = wire_ohm(awg, metres, celsius)
        spread = (1.006, 0.992, 1.0, 1.009)
        contacts = (0.01, 0.03, 0.09, 0.06)
        for to in ((1, 2, 3, 4), (2, 1, 3, 4)):
            run = Run(tuple(Conductor(ohm * s, t, c) for s, t, c in zip(spread, to, contacts)), ring)
            ok = to == (1, 2, 3, 4)
            out.append(Situation(
                f"parts-{'good' if ok else 'reversed'}-awg{awg}-{metres}m", run, "pass" if ok else "fail",
                () if ok else ("reversed-pair",), None if ok else (1, 2), group="parts",
                jig=parts, u1=u1, u2=u2, noise_seed=awg * 1000 + metres))
    # The converter's inputs as the data sheet draws them: both impedances at once, towards 0.7 V.
    both = Jig(loading="both")
    out += [
        Situation("loading-good-awg18-30m", good, "pass", group="loading", jig=both),
        Situation("loading-good-awg16-1m", straight(16, 1, -20), "pass", group="loading", jig=both),
        Situation("loading-reversed", straight(18, 30, 25, (2, 1, 3, 4)), "fail", ("reversed-pair",), (1, 2),
                  group="loading", jig=both),
        Situation("loading-open-4", with_open(good, 4, 0.5), "fail", ("open",), (4,), group="loading", jig=both),
        Situation("loading-thin-supply", straight(24, 150, 25), "fail", ("high-resistance",), (3, 4),
                  group="loading", jig=both),
    ]
    # A fast 63 mA fuse beside the series resistor: about 16 ohm cold, and no two alike. The head
    # states resistor and fuse together.
    for ohm in (15.0, 16.8):
        fused = Jig(drive_fuse_ohm=ohm)
        out.append(Situation(f"fuse-{ohm:g}ohm-good", good, "pass", group="other-jig", jig=fused,
                             head_series_ohm=346.0, head_series_tolerance=0.015))
    # Another jig and another plug: what the head says counts, not what is usual.
    ring = (39.0, 56.0, 75.0, 160.0)
    other = Jig(series_ohm=(470.0,) * 4)
    for name, to, verdict, kinds, posts in (
        ("good", (1, 2, 3, 4), "pass", (), None),
        ("reversed", (2, 1, 3, 4), "fail", ("reversed-pair",), (1, 2)),
    ):
        out.append(Situation(f"other-jig-{name}", straight(20, 40, 25, to, ring_ohm=ring), verdict, kinds, posts,
                             group="other-jig", jig=other, head_series_ohm=470.0, head_ring_ohm=ring))
    # Only the steps that judging needs, each reading once.
    out += [
        Situation("least-good", good, "pass", group="least", least=True),
        Situation("least-reversed", straight(18, 30, 25, (2, 1, 3, 4)), "fail", ("reversed-pair",), (1, 2),
                  group="least", least=True),
        Situation("least-open-4", with_open(good, 4, 0.5), "fail", ("open",), (4,), group="least", least=True),
    ]
    # Paths between two conductors. Of supply and common, a winding that is still landed looks alike.
    for i, j in PAIRS:
        for at in (0.0, 0.37, 1.0):
            device = (i, j) == (3, 4)
            truth = 0.8 + 2.0 * at * wire_ohm(18, 30, 25)
            out.append(Situation(f"short-{i}{j}-at-{round(at * 100)}", with_short(good, (i, j), at, 0.8),
                                 "cannot-tell" if device else "fail",
                                 ("something-connected",) if device else ("short",), (i, j), group="between",
                                 check_reaches=False, check_resistance=False, between_ohm=truth,
                                 fraction=None if device else at))
        for ohm, verdict in ((20e3, "fail"), (40e3, "fail"), (400e3, "pass")):
            out.append(Situation(f"leak-{i}{j}-{ohm / 1e3:g}k", with_short(good, (i, j), 0.6, ohm), verdict,
                                 ("leakage",), (i, j), group="between", between_ohm=ohm))
    # Incomplete captures of a good run: nothing can pass on them, and nothing is wrong with the run.
    for breakage in ("cut", "lost", "gap"):
        out.append(Situation(f"broken-{breakage}", good, "cannot-tell", None, group="broken", breakage=breakage,
                             check_reaches=False, check_resistance=False))
    return out


# ---------------------------------------------------------------------------------------------
# one capture

@dataclass
class Slot:
    """One reading on each of up to two converters, at the same moment."""

    step: str
    pattern: int
    state: State
    t_us: int


def _pattern_slots(step: str, pattern: int, drive: str, channels: Sequence[Sequence[Tuple[str, float]]],
                   t0: int, closed: bool = True, loaded: bool = False) -> List[Slot]:
    return [Slot(step, pattern, State(drive, "ZZ", closed, loaded=loaded, selected=list(sel)), t0 + SETTLE_US + n * SLOT_US)
            for n, sel in enumerate(channels)]


class Bench:
    """Reads slots; equal states are solved once."""

    def __init__(self, s: Situation):
        self.s = s
        self.known: Dict[tuple, Dict[str, float]] = {}
        self.noise = None if s.noise_seed is None else random.Random(s.noise_seed)

    def solve(self, slots: Sequence[Slot]) -> None:
        new: Dict[tuple, State] = {}
        for slot in slots:
            key = self._key(slot.state)
            if key not in self.known:
                new[key] = slot.state
        if not new:
            return
        decks, wanted = [], []
        for n, (key, state) in enumerate(new.items()):
            decks.append(netlist(self.s.jig, self.s.run, state, f"_{n}"))
            wanted.append((key, state, f"_{n}"))
        volts = spice.solve(decks)
        for key, state, tag in wanted:
            got = {}
            for channel, _ in state.selected:
                nodes = [volts[(name + tag).lower()] for name in channel_nodes(channel)]
                got[channel] = nodes[0] - nodes[1] if len(nodes) == 2 else nodes[0]
            self.known[key] = got

    def quantised(self, channel: str, full_scale: float, volts: float) -> dict:
        """What the converter makes of a voltage."""
        u = self.s.u2 if channel[0] == "G" else self.s.u1
        volts *= 1.0 + u.gain.get(full_scale, 0.0)
        if self.noise is not None:
            volts += self.noise.gauss(0.0, NOISE_V[full_scale])
        lsb = LSB_V[full_scale]
        code = round(volts / lsb + u.offset_lsb)
        held = max(-32768, min(32767, code))
        told = {"volts": round(held * lsb, 9)}
        if held != code:
            told["saturated"] = True
        return told

    def read(self, slot: Slot) -> List[dict]:
        got = self.known[self._key(slot.state)]
        return [{
            "phase": "plug", "step": slot.step, "pattern": slot.pattern, "drive": slot.state.drive,
            "pulls": slot.state.pulls, "relays": "closed" if slot.state.closed else "open",
            "channel": channel, "range_v": full_scale,
            **self.quantised(channel, full_scale, got[channel]), "t_us": slot.t_us,
        } for channel, full_scale in slot.state.selected]

    @staticmethod
    def _key(state: State) -> tuple:
        return state.drive, state.pulls, state.closed, state.loaded, tuple(state.selected)


def capture(s: Situation) -> List[dict]:
    """All lines of the capture of one situation."""
    lines: List[dict] = [{
        "runproof_capture": 1, "made_by": "ngspice operating points",
        "jig": {
            "serial": "", "board": "ngspice", "firmware": "",
            "series_ohm": [s.head_series_ohm] * 4, "series_tolerance": s.head_series_tolerance,
            "pull_ohm": s.jig.pull_ohm,
            "divider_ohm": s.jig.divider_top_ohm + s.jig.divider_bottom_ohm,
        },
        "plug": {"ring_ohm": list(s.head_ring_ohm), "tolerance": 0.001},
    }]
    bench = Bench(s)
    open_lines, t = open_phase(s.jig, s.run, bench.quantised)
    lines += open_lines
    pattern = 0

    repeats = 1 if s.least else 2
    first: List[Slot] = []
    live = [[(c, 0.256)] for c in ("D1-D2", "D1-D4", "D2-D4", "D3-D4")]
    for step in ("live", "live-loaded"):
        first += _pattern_slots(step, pattern, "ZZZZ", live, t, closed=False, loaded=step == "live-loaded")
        t, pattern = t + 200_000 + 30_000, pattern + 1  # a relay moves
    for drive in ("HHHH", "LLLL"):
        four = [[(f"N{k}", 4.096), (f"G{k}", 4.096)] for k in (1, 2, 3, 4)] * (1 if s.least else 4)
        first += _pattern_slots("self-calibration", pattern, drive, four, t)
        t, pattern = t + SETTLE_US + 16 * SLOT_US + 560, pattern + 1
    scan = []
    for n, (i, j) in enumerate(PAIRS):
        scan += _pattern_slots("pre-scan", pattern + n, against(i, j), pair_selected(i, j, (4.096,) * 3),
                               t + n * PATTERN_US)
    bench.solve(first + scan)
    for slot in first:
        lines += bench.read(slot)
    scanned = [line for slot in scan for line in bench.read(slot)]
    if not s.least:
        lines += scanned
        t, pattern = t + len(PAIRS) * PATTERN_US, pattern + len(PAIRS)
    found = {(line["drive"], line["channel"]): line["volts"] for line in scanned}

    second: List[Slot] = []
    for i, j in PAIRS:
        ranges = [1.024 if abs(found[against(i, j), c]) <= 0.9 else 4.096 for c in ("N1-N4", "N2-N4", "N3-N4")]
        for drive in (against(i, j),) * repeats + (against(j, i),) * repeats:
            second += _pattern_slots("pairs", pattern, drive, pair_selected(i, j, ranges), t)
            t, pattern = t + PATTERN_US, pattern + 1
    bench.solve(second)
    for slot in second:
        lines += bench.read(slot)
    if s.breakage == "cut":
        del lines[-20:]
    elif s.breakage == "lost":
        del lines[-20:]
        lines.append({"end": "lost", "phase": "plug", "reason": "the link broke"})
    else:
        if s.breakage == "gap":
            lines = [line for line in lines if (line.get("phase"), line.get("pattern")) != ("plug", pattern - 10)]
        lines.append({"end": "done", "phase": "plug", "patterns": pattern})
    return lines


def expectation(s: Situation) -> dict:
    """What must come out, and the truth. An open conductor reaches nothing and has no resistance."""
    whole = [c.open_at is None and s.run.ring_ohm is not None for c in s.run.conductors]
    reaches = s.reaches or tuple(c.reaches if w else None for c, w in zip(s.run.conductors, whole))
    measured = [s.check_resistance and w for w in whole]
    return {
        "file": s.name + ".jsonl",
        "group": s.group,
        "verdict": s.verdict,
        "finding_kinds": None if s.kinds is None else list(s.kinds),
        "finding_posts": None if s.posts is None else list(s.posts),
        "reaches": list(reaches) if s.check_reaches else None,
        # The wire with its far contact, and the wire alone; by post, at the near end.
        "resistance_ohm": [c.ohm + c.far_contact_ohm if m else None for c, m in zip(s.run.conductors, measured)],
        "between_ohm": s.between_ohm,
        "fraction": s.fraction,
        "wire_ohm": [c.ohm if m else None for c, m in zip(s.run.conductors, measured)],
    }


def make(out_dir: str, groups: Optional[Sequence[str]] = None) -> Dict[str, dict]:
    os.makedirs(out_dir, exist_ok=True)
    chosen = [s for s in situations() if groups is None or s.group in groups]
    if not chosen:
        known = sorted({s.group for s in situations()})
        raise SystemExit(f"no situation in these groups; there are: {', '.join(known)}")
    expected: Dict[str, dict] = {}
    for s in chosen:
        with open(os.path.join(out_dir, s.name + ".jsonl"), "w", encoding="utf-8") as f:
            for line in capture(s):
                f.write(json.dumps(line, separators=(",", ":")) + "\n")
        expected[s.name] = expectation(s)
    with open(os.path.join(out_dir, "expected.json"), "w", encoding="utf-8") as f:
        json.dump(expected, f, indent=1)
        f.write("\n")
    return expected


def main() -> int:
    ask = argparse.ArgumentParser(description="Write captures of known situations, solved by ngspice.")
    ask.add_argument("out_dir")
    ask.add_argument("--groups", help="comma-separated: " + ", ".join(dict.fromkeys(s.group for s in situations())))
    args = ask.parse_args()
    spice.require()
    expected = make(args.out_dir, args.groups.split(",") if args.groups else None)
    print(f"{len(expected)} captures and expected.json in {args.out_dir}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
