"""Compares how long the simulated posts take to rise with ngspice's transient analysis, without noise.

    python3 check_rises.py CIRCUIT_BINARY [--random N] [--only NAME]

Runs on which something alternates, or conducts from a voltage on, are left out: the first depend on
the instant, the second are not simulated as they rise. Exit status 1 if a rise is off by more than
0.1 us, or if there is too little to compare.
"""

import sys
from typing import Dict, List, Optional

import scene_netlist
import spice
from check_circuit import all_scenes, arguments, simulated
from jig_netlist import State, netlist

# A microsecond is counted; 0.1 us of 1 nF's 70 us is 1.4 pF, the insulation of 1 cm of cable.
BAR_S = 0.1e-6
# The jig waits so long.
WITHIN_S = 1.25e-3
SCENES_MIN = 20


def by_ngspice(jig, run, rises: List[Dict], reads_high_v: List[float]) -> List[Optional[float]]:
    """When each post's line reads high, in seconds."""
    before, after = [], []
    for n, rise in enumerate(rises):
        closed, drive = rise["relays"] == "closed", ["L"] * 4
        before.append(netlist(jig, run, State("LLLL", "ZZ", closed, referred=rise["referred"]), f"_{n}"))
        drive[rise["post"] - 1] = "Z"
        after.append(netlist(jig, run, State("".join(drive), "HH", closed, referred=rise["referred"]), f"_{n}"))
    start_v = spice.solve(before)
    return spice.first_crossings(
        [(deck, start_v, f"G{rise['post']}_{n}", reads_high_v[rise["post"] - 1])
         for n, (deck, rise) in enumerate(zip(after, rises))], WITHIN_S)


def main() -> int:
    args = arguments("Compare the simulated rises with ngspice.")
    spice.require()
    compared = rises_compared = failed = never = 0
    largest_s = 0.0
    for seed, (name, text, seconds) in enumerate(all_scenes(args.random), 1):
        scene = scene_netlist.Scene.read(text)
        nonlinear = any("conducts_from_v" in device for device in scene.told.get("left_on", []))
        if args.only not in (None, name) or nonlinear or scene.sources:
            continue
        parts, said = simulated(args.binary, text, seed, seconds)
        rises = [one["rise"] for one in said if "rise" in one]
        run = scene.run(parts, scene.plug_in("open"), seconds, scene_netlist.steady_and_phasor(0.0))
        outside = by_ngspice(scene_netlist.jig(parts), run, rises, parts["reads_high_volts"])
        wrong = []
        for rise, by_spice in zip(rises, outside):
            by_us = rise["seconds"]
            if (by_us is None) != (by_spice is None):
                wrong.append(f"{rise}; by ngspice {by_spice}")
            elif by_us is None:
                never += 1
            else:
                largest_s = max(largest_s, abs(by_us - by_spice))
                if not abs(by_us - by_spice) <= BAR_S:
                    wrong.append(f"{rise}; by ngspice {by_spice}")
        compared, rises_compared = compared + 1, rises_compared + len(rises)
        print(f"{'FAIL' if wrong else 'ok  '} {name:28} {len(rises)} rises")
        for one in wrong[:8]:
            print(f"     {one}")
        failed += bool(wrong) or len(rises) != 12
    print(f"{compared} scenes, {rises_compared} rises compared, of which {never} never come; "
          f"the largest difference is {largest_s * 1e6:.4f} us")
    if args.only is None and (compared < SCENES_MIN or never == rises_compared):
        print(f"FAIL fewer than {SCENES_MIN} scenes compared")
        failed += 1
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
