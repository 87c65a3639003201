"""Compares the simulated circuit with ngspice, at every node that a converter reads, without noise.

    python3 check_circuit.py CIRCUIT_BINARY [--random N] [--only NAME]

CIRCUIT_BINARY is firmware/examples/circuit.rs. It says which patterns there are and what its nodes
are at; the netlist comes from the scene and the parts alone. Exit status 1 if any node is off by
more than 1 uV, in its steady part or its phasor, or if there is too little to compare.
"""

import argparse
import glob
import json
import os
import subprocess
import sys
import tempfile
from typing import Dict, Iterator, List, Tuple

import scene_netlist
import scenes
import spice
from jig_netlist import State, netlist

# A milliohm too much in a conductor is 2.4 uV; the two programs' own rounding is 0.2 uV.
BAR_V = 1e-6
# Of a voltage from elsewhere, which can be hundreds of volts: the two programs' rounding again.
BAR_OF_FOREIGN = 2e-8
NODES = [kind + str(k) for kind in "NGD" for k in (1, 2, 3, 4)]
PATTERNS = {"open": 74, "plug": 50}
SCENES_MIN = 20
BUILT_IN = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../firmware/src/boards/simulated/scenes/*.toml")


def all_scenes(random_ones: int) -> Iterator[Tuple[str, str, float]]:
    """(name, scene file, seconds since the jig's start)."""
    for path in sorted(glob.glob(BUILT_IN)):
        with open(path, encoding="utf-8") as f:
            yield "built-in " + os.path.basename(path)[:-5], f.read(), 0.0
    for name, text in scenes.of_each_kind():
        yield name, text, 0.0
    yield from scenes.of_all_times()
    for seed in range(1, random_ones + 1):
        yield (*scenes.at_random(seed), 0.0)


def simulated(binary: str, text: str, seed: int, seconds: float) -> Tuple[Dict, List[Dict]]:
    """The jig's parts; then the patterns, with what the simulated nodes are at, and the rises."""
    with tempfile.TemporaryDirectory(prefix="outside-") as folder:
        path = os.path.join(folder, "scene.toml")
        with open(path, "w", encoding="utf-8") as f:
            f.write(text)
        done = subprocess.run([binary, path, str(seed), str(seconds)], capture_output=True, text=True, timeout=60)
    if done.returncode:
        raise SystemExit(f"{binary} failed:\n{done.stderr}")
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    return lines[0]["parts"], lines[1:]


class Comparison:
    """One scene: its largest difference, and what is wrong."""

    def __init__(self, binary: str, text: str, seed: int, seconds: float):
        scene = scene_netlist.Scene.read(text)
        parts, said = simulated(binary, text, seed, seconds)
        self.patterns = [one for one in said if "seen" in one]
        self.wrong: List[str] = scene_netlist.beyond_tolerance(parts)
        self.nodes = 0
        self.largest_v = 0.0
        for phase, count in PATTERNS.items():
            numbers = [p["pattern"] for p in self.patterns if p["phase"] == phase]
            if numbers != list(range(count)):
                self.wrong.append(f"the {phase} phase has patterns {numbers}, should be 0 to {count - 1}")
        jig = scene_netlist.jig(parts)
        states: Dict[tuple, Tuple[str, State]] = {}
        for pattern in self.patterns:
            for seen in pattern["seen"]:
                states.setdefault(self._key(pattern, seen), (pattern["phase"], State(
                    pattern["drive"], pattern["pulls"], pattern["relays"] == "closed",
                    [tuple(one) for one in seen["selected"]], pattern["loaded"])))
        tags = {key: f"_{n}" for n, key in enumerate(states)}

        def decks(hertz: float) -> List[List[str]]:
            gives = scene_netlist.steady_and_phasor(hertz)
            return [netlist(jig, scene.run(parts, scene.plug_in(phase), seconds, gives), state, tags[key])
                    for key, (phase, state) in states.items()]

        steady = spice.solve(decks(0.0))
        phasors = {hertz: spice.solve_phasors(decks(hertz), hertz) for hertz in scene.frequencies}
        for pattern in self.patterns:
            for seen in pattern["seen"]:
                tag = tags[self._key(pattern, seen)]
                for node in NODES:
                    name = (node.replace("G", "U2") + tag).lower()
                    self._node(pattern, seen, node, steady[name], {hertz: of[name] for hertz, of in phasors.items()})

    @staticmethod
    def _key(pattern: Dict, seen: Dict) -> tuple:
        return (pattern["phase"], pattern["drive"], pattern["pulls"], pattern["relays"], pattern["loaded"],
                json.dumps(seen["selected"]))

    def _node(self, pattern: Dict, seen: Dict, node: str, steady_v: float, phasors_v: Dict[float, complex]) -> None:
        direct, told = seen[node]["direct"], {hertz: complex(*phasor) for hertz, phasor in seen[node]["phasors"]}
        # Before a source comes on the simulated circuit has no phasor of it.
        off_v = max([abs(direct - steady_v), *(abs(told.get(hertz, 0.0) - phasors_v.get(hertz, 0.0)) for hertz in {*told, *phasors_v})])
        self.nodes += 1
        self.largest_v = max(self.largest_v, off_v)
        if not off_v <= BAR_V + BAR_OF_FOREIGN * max(map(abs, phasors_v.values()), default=0.0):
            self.wrong.append(
                f"{pattern['phase']} {pattern['pattern']} {pattern['step']} {pattern['drive']} {pattern['pulls']} "
                f"{seen['selected']} {node}: {direct:.7f} V, {told}; by ngspice {steady_v:.7f} V, {phasors_v}")


def arguments(what: str) -> argparse.Namespace:
    """Of a program that compares scenes."""
    ask = argparse.ArgumentParser(description=what)
    ask.add_argument("binary")
    ask.add_argument("--random", type=int, default=12, help="how many random runs")
    ask.add_argument("--only", help="the scene of this name")
    return ask.parse_args()


def main() -> int:
    args = arguments("Compare the simulated circuit with ngspice.")
    spice.require()
    compared = patterns = nodes = failed = 0
    largest_v = 0.0
    for seed, (name, text, seconds) in enumerate(all_scenes(args.random), 1):
        if args.only not in (None, name):
            continue
        try:
            one = Comparison(args.binary, text, seed, seconds)
        except spice.SpiceError as e:
            print(f"FAIL {name}: {e}")
            failed += 1
            continue
        compared, patterns, nodes = compared + 1, patterns + len(one.patterns), nodes + one.nodes
        largest_v = max(largest_v, one.largest_v)
        print(f"{'FAIL' if one.wrong else 'ok  '} {name:28} off by {one.largest_v * 1e6:10.4f} uV at most")
        for wrong in one.wrong[:8]:
            print(f"     {wrong}")
        failed += bool(one.wrong)
    print(f"{compared} scenes, {patterns} patterns, {nodes} nodes compared; the largest difference is {largest_v * 1e6:.4f} uV")
    if args.only is None and compared < SCENES_MIN:
        print(f"FAIL fewer than {SCENES_MIN} scenes compared")
        failed += 1
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
