"""Compares what the simulated live converter's input is at with ngspice, in time.

    python3 check_live.py LIVE_BINARY [--only NAME] [--captures DIR]

LIVE_BINARY is firmware/examples/live.rs. It says when the conversions of a live phase begin and end,
and what the input is at on the mean meanwhile, without noise. Here sources are voltages in time - sines,
rectified ones, bits with edges - on the netlist of firmware/jig/front-end.cir, and the converter's input
loads what it reads while it reads it; the simulated circuit is solved by phasors, Fourier series and, for
traffic, resistances. Exit status 1 if any average is off by more than BAR_V, or if there is too little to
compare. With --captures, ngspice's numbers are written as captures, one per scene.
"""

import argparse
import array
import glob
import json
import os
import random
import subprocess
import sys
import tempfile
from bisect import bisect_left, bisect_right
from concurrent.futures import ThreadPoolExecutor
from typing import Dict, Iterator, List, Tuple

import scene_netlist
import spice
import traffic
from jig_netlist import COMMON_MODE_OHM, DIFFERENTIAL_OHM, LSB_V, POST, SUPPLY_LOAD, State, netlist
from run_netlist import RING_OHM

# At the converter's input; 1 uV is 0.2 mV at the posts. Bits have edges here and no capacitance there; the rest is
# ngspice's steps.
BAR_V = 4e-6
# Of what is there: straight lines between steps of a sine of 60 Hz leave 1e-6 of it out.
BAR_OF_ALL = 3e-6
SCENES = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../firmware/src/boards/simulated/scenes/live/*.toml")
SCENES_MIN = 8
# Of the live phase; of a look at the supply, and of what is left under the supply load, where it may be put on.
READINGS, ONLY_LOOKED, LOADED_TOO = 192, 192 + 16, 192 + 48
# All sources have run so long before the first reading, and after the load: a conductor on nothing, with its 4.5
# Mohm and some nanofarads, takes a tenth of it. (The simulated circuit has what a converter's input loads at rest at once;
# such a conductor follows in milliseconds, which is worth 3 uV in live-ghost.)
BEFORE_S = 0.15
STEP_S = 10e-6
# SBAS444E, absolute maximum ratings: an input beyond its supply by more than this conducts.
DIODE_V = 0.3
NOISE_V = {4.096: 266.93e-6 / 6.6, 2.048: 118.63e-6 / 6.6, 0.256: 35.83e-6 / 6.6}


def simulated(binary: str, path: str, seed: int) -> Tuple[Dict, List[Dict]]:
    """The jig's parts, and the readings."""
    done = subprocess.run([binary, path, str(seed)], capture_output=True, text=True, timeout=60)
    if done.returncode:
        raise SystemExit(f"{binary} failed:\n{done.stderr}")
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    return lines[0]["parts"], lines[1:]


def in_time(begins_s: float, ends_s: float):
    """What a source gives from `begins_s` of the jig's time on, which is ngspice's 0."""
    def gives(source: Dict) -> str:
        hertz, ahead = source.get("hertz", scene_netlist.HERTZ), source.get("phase_degrees", 0.0)
        terms = [repr(source.get("direct_v", 0.0))]

        def sine(volts_rms: float, times: int, degrees: float) -> str:
            return (f"{volts_rms!r}*sqrt(2)*sin(2*pi*({times * hertz!r}*(time+({begins_s!r}))+({degrees / 360.0!r})))")

        if source.get("volts_rms"):
            shaped = {"sine": "({})", "half-wave": "max({},0)", "full-wave": "abs({})"}[source.get("shape", "sine")]
            terms.append(shaped.format(sine(source["volts_rms"], 1, ahead)))
        terms += [sine(h["volts_rms"], h["times"], h.get("phase_degrees", 0.0)) for h in source.get("harmonic", [])]
        if "traffic" in source:
            if len(terms) > 1 or source.get("direct_v"):
                raise ValueError("traffic with something else in one source cannot be built here")
            return traffic.pwl(source["traffic"], begins_s, ends_s)
        return "V=" + "+".join(terms) if len(terms) > 1 else f"DC {terms[0]}"
    return gives


def looking(readings: List[Dict], begins_s: float) -> List[str]:
    """The converter's input across what it reads, from just before it looks until it has looked."""
    lines = []
    kinds = sorted({(r["channel"], r["range_v"]) for r in readings})
    for n, (channel, range_v) in enumerate(kinds):
        ends = (channel.lower().split("-") + ["0"])[:2]
        ohm = COMMON_MODE_OHM[range_v] if ends[1] == "0" else DIFFERENTIAL_OHM[range_v]
        corners = ["0 0"]
        for r in readings:
            if (r["channel"], r["range_v"]) == (channel, range_v):
                from_s, to_s = r["from_ns"] * 1e-9 - begins_s, r["to_ns"] * 1e-9 - begins_s
                corners += [f"{from_s - 2e-6!r} 0", f"{from_s - 1e-6!r} 1", f"{from_s!r} 1", f"{to_s!r} 1", f"{to_s + 1e-6!r} 0"]
        lines += [f"Vlook{n} look{n} 0 PWL({' '.join(corners)})",
                  f"Blook{n} {ends[0]} {ends[1]} I = v({ends[0]},{ends[1]})*v(look{n})/{ohm!r}"]
    return lines


class Trace:
    """The feet D1..D4 of the live dividers over time."""

    def __init__(self, times_s: array.array, volts: Dict[str, array.array]):
        self.times_s, self.volts = times_s, volts

    def average(self, channel: str, from_s: float, to_s: float, within_v: Tuple[float, float]) -> float:
        """By straight lines between ngspice's own points, of which what is beyond the rails is held there."""
        plus, minus = (channel.lower().split("-") + [None])[:2]
        return self._average(plus, from_s, to_s, within_v) - (self._average(minus, from_s, to_s, within_v) if minus else 0.0)

    def _average(self, node: str, from_s: float, to_s: float, within_v: Tuple[float, float]) -> float:
        times_s, volts = self.times_s, self.volts[node]

        def between(n: int, time_s: float) -> float:
            part = (time_s - times_s[n - 1]) / (times_s[n] - times_s[n - 1])
            return volts[n - 1] + part * (volts[n] - volts[n - 1])

        first, last = bisect_right(times_s, from_s), bisect_left(times_s, to_s)
        points = [(from_s, between(first, from_s)), *((times_s[n], volts[n]) for n in range(first, last)), (to_s, between(last, to_s))]
        for rail_v in within_v:
            points = list(with_crossings(points, rail_v))
        least_v, most_v = within_v
        held = [(time_s, min(max(v, least_v), most_v)) for time_s, v in points]
        return sum((t1 - t0) * (v0 + v1) / 2.0 for (t0, v0), (t1, v1) in zip(held, held[1:])) / (to_s - from_s)


def with_crossings(points: List[Tuple[float, float]], at_v: float) -> Iterator[Tuple[float, float]]:
    """The same with a point wherever the line passes a voltage."""
    yield points[0]
    for (t0, v0), (t1, v1) in zip(points, points[1:]):
        if (v0 - at_v) * (v1 - at_v) < 0.0:
            yield t0 + (t1 - t0) * (at_v - v0) / (v1 - v0), at_v
        yield t1, v1


def trace(deck: List[str], seconds: float) -> Trace:
    nodes = ["d1", "d2", "d3", "d4"]
    with tempfile.TemporaryDirectory(prefix="outside-") as folder:
        with open(os.path.join(folder, "deck.cir"), "w", encoding="ascii") as f:
            f.write("\n".join([
                "* one live look", *deck, ".options reltol=1e-6 vntol=1e-9 abstol=1e-14 method=gear",
                ".save " + " ".join(f"v({node})" for node in nodes), ".control", "set filetype=binary",
                f"tran {STEP_S!r} {seconds!r} {BEFORE_S - 1e-3!r} {STEP_S!r}", "write out.raw", "quit 0", ".endc", ".end", ""]))
        done = subprocess.run([spice.require(), "-b", "deck.cir"], cwd=folder, capture_output=True, text=True, timeout=120)
        path = os.path.join(folder, "out.raw")
        if not os.path.exists(path):
            raise spice.SpiceError(f"ngspice gave no result:\n{done.stdout}{done.stderr}")
        with open(path, "rb") as f:
            head, _, body = f.read().partition(b"Binary:\n")
    names = [line.split()[1].decode() for line in head.partition(b"\nVariables:")[2].splitlines() if len(line.split()) >= 3]
    numbers = array.array("d", body)
    columns = {name.removeprefix("v(").removesuffix(")"): numbers[n::len(names)] for n, name in enumerate(names)}
    if columns["time"][-1] < seconds - STEP_S:
        raise spice.SpiceError(f"ngspice stopped at {columns['time'][-1]} s:\n{done.stdout}{done.stderr}")
    return Trace(columns["time"], {node: columns[node] for node in nodes})


def by_ngspice(scene: scene_netlist.Scene, parts: Dict, readings: List[Dict]) -> List[float]:
    """The average of each reading."""
    averages: List[float] = []
    within_v = (-DIODE_V, parts["supply_volts"] + DIODE_V)
    for phase, step in (("live", "live"), ("live", "live-loaded"), ("supply-load", "live"), ("supply-load", "supply-loaded")):
        some = [r for r in readings if (r["phase"], r["step"]) == (phase, step)]
        if not some:
            continue
        begins_s = some[0]["from_ns"] * 1e-9 - BEFORE_S
        seconds = some[-1]["to_ns"] * 1e-9 - begins_s + 1e-4
        run = scene.run(parts, False, begins_s + BEFORE_S, in_time(begins_s, begins_s + seconds))
        deck = netlist(scene_netlist.jig(parts), run, State(
            "ZZZZ", closed=False, loaded=step == "live-loaded", supply_loaded=step == "supply-loaded"), "")
        seen = trace(deck + looking(some, begins_s), seconds)
        averages += [seen.average(r["channel"], r["from_ns"] * 1e-9 - begins_s, r["to_ns"] * 1e-9 - begins_s, within_v) for r in some]
    return averages


class Comparison:
    """One scene: its largest difference, and what is wrong."""

    def __init__(self, binary: str, path: str, seed: int):
        self.name, self.seed = os.path.basename(path)[:-5], seed
        with open(path, encoding="utf-8") as f:
            scene = scene_netlist.Scene.read(f.read())
        parts, self.readings = simulated(binary, path, seed)
        self.outside_v = by_ngspice(scene, parts, self.readings)
        both = [(r, v, abs(r["volts"] - v)) for r, v in zip(self.readings, self.outside_v)]
        self.wrong = [] if len(both) in (ONLY_LOOKED, LOADED_TOO) else [f"{len(both)} readings, should be {ONLY_LOOKED} or {LOADED_TOO}"]
        self.is_loaded = len(both) == LOADED_TOO
        self.wrong += [f"{r['step']} {r['pattern']} {r['channel']} on {r['range_v']} V at {r['t_us']} us: {r['volts']:.8f} V, by ngspice {v:.8f} V"
                       for r, v, off_v in both if not off_v <= BAR_V + BAR_OF_ALL * abs(v)]
        self.largest_v = max((off_v for _, _, off_v in both), default=0.0)
        self.most_v = max(map(abs, self.outside_v), default=0.0)

    def capture(self) -> str:
        """A capture of what ngspice says, with a converter's noise and steps."""
        noise = random.Random(self.seed)
        lines = [{
            "runproof_capture": 1, "made_by": "ngspice", "jig": {
                "serial": "", "board": "", "firmware": "", "series_ohm": 4 * [POST["r_k"] + POST["r_fuse"]],
                "series_tolerance": 0.015, "supply_load_ohm": SUPPLY_LOAD["r_load"], "pull_ohm": POST["r_pull"], "divider_ohm": POST["r_foot"] + 3.0 * POST["r_top"]},
            "plug": {"ring_ohm": list(RING_OHM), "tolerance": 0.001}}]
        for n, (r, mean_v) in enumerate(zip(self.readings, self.outside_v)):
            if n == READINGS:
                lines.append(self.end(lines))
            full_scale = r["range_v"]
            code = round((mean_v + noise.gauss(0.0, NOISE_V[full_scale])) / LSB_V[full_scale])
            held = min(max(code, -32768), 32767)
            line = {"phase": r["phase"], "step": r["step"], "pattern": r["pattern"], "drive": "ZZZZ", "pulls": "ZZ", "relays": "open",
                    "channel": r["channel"], "range_v": full_scale, "volts": held * LSB_V[full_scale]}
            if held in (-32768, 32767):
                line["saturated"] = True
            lines.append({**line, "t_us": r["t_us"]})
        lines.append(self.end(lines))
        return "".join(json.dumps(line) + "\n" for line in lines)


    @staticmethod
    def end(lines: List[Dict]) -> Dict:
        return {"end": "done", "phase": lines[-1]["phase"], "patterns": lines[-1]["pattern"] + 1}


def main() -> int:
    ask = argparse.ArgumentParser(description="Compare simulated live readings with ngspice.")
    ask.add_argument("binary")
    ask.add_argument("--only", help="the scene of this name")
    ask.add_argument("--captures", help="where captures go")
    args = ask.parse_args()
    spice.require()
    paths = [path for path in sorted(glob.glob(SCENES)) if args.only in (None, os.path.basename(path)[:-5])]
    readings_compared = failed = loaded = 0
    largest_v = 0.0
    if args.captures:
        os.makedirs(args.captures, exist_ok=True)
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        for one in pool.map(lambda n: Comparison(args.binary, paths[n], n + 1), range(len(paths))):
            print(f"{'FAIL' if one.wrong else 'ok  '} {one.name:24} off by {one.largest_v * 1e6:7.3f} uV at most, of {one.most_v:8.5f} V")
            for wrong in one.wrong[:6]:
                print(f"     {wrong}")
            failed += bool(one.wrong)
            loaded += one.is_loaded
            readings_compared, largest_v = readings_compared + len(one.readings), max(largest_v, one.largest_v)
            if args.captures:
                with open(os.path.join(args.captures, one.name + ".jsonl"), "w", encoding="utf-8") as f:
                    f.write(one.capture())
    compared = len(paths)
    print(f"{compared} scenes, {readings_compared} readings compared, {loaded} scenes with the supply loaded; the largest difference is {largest_v * 1e6:.3f} uV")
    if args.only is None and min(compared, loaded) < SCENES_MIN:
        print(f"FAIL fewer than {SCENES_MIN} scenes compared, or with the supply loaded")
        failed += 1
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
