"""The open phase of a capture: the same jig and run with the end plug out, read by ngspice.

Fewer repeats than the jig takes, unless `whole`: without noise all repeats are alike.
"""

import itertools
from dataclasses import dataclass, field, replace
from typing import Callable, Dict, List, Sequence, Tuple

import spice
from jig_netlist import Jig, State, channel_nodes, netlist
from run_netlist import Run

PAIRS = list(itertools.combinations((1, 2, 3, 4), 2))
READINGS_MAX = 16  # of one pattern
# Microseconds.
SETTLE, SLOT, PAIR_PATTERN = 600, 1740, 9090
LIVE_SLOT, CONTACTS = 1590, 25_000
LEAKAGE_SETTLE, LEAKAGE_SLOT = 14_000, 1562
HALF_SUPPLY = "HL"

Selected = List[Tuple[str, float]]
# A channel, its full scale and its exact voltage -> the line's volts (and what else is told of it).
Quantised = Callable[[str, float, float], Dict]


@dataclass
class Pattern:
    """What is driven, and what is selected in turn."""

    step: str
    state: State  # `selected` is left empty
    selected: Sequence[Selected]
    settle_us: int = SETTLE
    slot_us: int = SLOT
    length_us: int = 0  # from its beginning to that of the next; 0: as long as it takes
    before_us: int = 0  # contacts that move first


@dataclass
class Solver:
    """Solves a state once, and many at a time."""

    jig: Jig
    run: Run
    known: Dict[tuple, Dict[str, float]] = field(default_factory=dict)

    def solve(self, patterns: Sequence[Pattern]) -> None:
        states = {}
        for pattern in patterns:
            for selected in pattern.selected:
                key = self._key(pattern.state, selected)
                if key not in self.known:
                    states[key] = replace(pattern.state, selected=list(selected))
        if not states:
            return
        volts = spice.solve([netlist(self.jig, self.run, s, f"_{n}") for n, s in enumerate(states.values())])
        for n, (key, state) in enumerate(states.items()):
            self.known[key] = {channel: self._across(volts, channel, n) for channel, _ in state.selected}

    def volts(self, pattern: Pattern, selected: Selected, channel: str) -> float:
        return self.known[self._key(pattern.state, selected)][channel]

    @staticmethod
    def _across(volts: Dict[str, float], channel: str, n: int) -> float:
        ends = [volts[f"{name}_{n}".lower()] for name in channel_nodes(channel)]
        return ends[0] - ends[1] if len(ends) == 2 else ends[0]

    @staticmethod
    def _key(state: State, selected: Selected) -> tuple:
        return state.drive, state.pulls, state.closed, state.loaded, tuple(selected)


def open_phase(jig: Jig, run: Run, quantised: Quantised, whole: bool = False) -> Tuple[List[dict], int]:
    """All lines of the phase, and the time in microseconds at which it is over."""
    solver = Solver(jig, replace(run, ring_ohm=None))
    scan = [Pattern("pre-scan", State(against(i, j)), pair_selected(i, j, (4.096,) * 3), length_us=PAIR_PATTERN)
            for i, j in PAIRS]
    solver.solve(scan)
    pairs = []
    for pattern, (i, j) in zip(scan, PAIRS):
        # The range that fits what the pre-scan read.
        ranges = [1.024 if abs(solver.volts(pattern, s, s[0][0])) <= 0.9 else 4.096 for s in pattern.selected[:3]]
        pairs += [Pattern("pairs", State(drive), pair_selected(i, j, ranges), length_us=PAIR_PATTERN)
                  for drive in (against(i, j), against(j, i)) for _ in range(2 if whole else 1)]
    patterns = [*_live(whole), *_leakage(whole, ("ZZZZ",), closed=False), *_self_calibration(whole), *scan, *pairs,
                *_leakage(whole, ("ZZZZ", "HZZZ", "ZHZZ", "ZZHZ", "ZZZH"), closed=True)]
    solver.solve(patterns)
    lines: List[dict] = []
    t_us = 0
    for number, pattern in enumerate(patterns):
        t_us += pattern.before_us
        for n, selected in enumerate(pattern.selected):
            at_us = t_us + pattern.settle_us + n * pattern.slot_us
            for channel, full_scale in selected:
                lines.append({
                    "phase": "open", "step": pattern.step, "pattern": number, "drive": pattern.state.drive,
                    "pulls": pattern.state.pulls, "relays": "closed" if pattern.state.closed else "open",
                    "channel": channel, "range_v": full_scale,
                    **quantised(channel, full_scale, solver.volts(pattern, selected, channel)), "t_us": at_us,
                })
        t_us += pattern.length_us or pattern.settle_us + len(pattern.selected) * pattern.slot_us
    lines.append({"end": "done", "phase": "open", "patterns": len(patterns)})
    return lines, t_us


def _live(whole: bool) -> List[Pattern]:
    selected = [[(channel, 1.024)] for channel in ("D1-D2", "D3-D4", "D1-D4", "D2-D4")] * 4
    out: List[Pattern] = []
    for step, count in (("live", 8), ("live-loaded", 4)):
        loaded = step == "live-loaded"
        for n in range(count if whole else 1):
            before_us = CONTACTS if loaded and n == 0 else 0
            out.append(Pattern(step, State("ZZZZ", closed=False, loaded=loaded), selected, 0, LIVE_SLOT, 0, before_us))
    return out


def _leakage(whole: bool, drives: Sequence[str], closed: bool) -> List[Pattern]:
    selected = [[(f"N{k}", 4.096)] for k in (1, 2, 3, 4)] * (READINGS_MAX // 4)
    out: List[Pattern] = []
    for drive in drives:
        for n in range(4 if whole else 1):
            settle_us = LEAKAGE_SETTLE if n == 0 else 0
            out.append(Pattern("leakage", State(drive, HALF_SUPPLY, closed), selected, settle_us, LEAKAGE_SLOT))
    return out


def _self_calibration(whole: bool) -> List[Pattern]:
    selected = [[(f"N{k}", 4.096), (f"G{k}", 4.096)] for k in (1, 2, 3, 4)]
    patterns = [Pattern("self-calibration", State(drive), selected) for drive in ("HHHH", "LLLL") * (4 if whole else 1)]
    patterns[0].before_us = CONTACTS
    return patterns


def against(high: int, low: int) -> str:
    return "".join("H" if k == high else "L" if k == low else "Z" for k in (1, 2, 3, 4))


def pair_selected(i: int, j: int, ranges: Sequence[float]) -> List[Selected]:
    sense = (*zip(("N1-N4", "N2-N4", "N3-N4"), ranges), ("N4", 4.096))
    return [[one, (f"G{g}", 4.096)] for one, g in zip(sense, (i, j, i, j))]
