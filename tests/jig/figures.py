"""Computes what firmware/jig states of its own currents and voltages: at first power, and of the key's lights.

    python3 figures.py

Volts are ngspice's, of front-end.cir with its clamps; the rest is arithmetic on bom.csv. check_figures.py
holds the tables in firmware/jig against it.
"""

import os
import sys
from typing import Dict, List, Tuple

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../outside"))

import front_end
from check_protection import PORTS, run_ngspice
from parts import table, value as ohms

RAIL_V = 3.3
# RP2040 data sheet 5.2.3: at most (3.3 - 2.62) V / 12 mA. At its least: [judgement].
PAD_OHM = (25.0, 57.0)
# Red diodes of the low-current kind at about 1 mA, from typical curves. [from memory]
RED_V = (1.6, 1.8)
METER_OHM = 10e6
WHERE = {"mid": "VMID", "wire1": "post 1, driving jaw", "wire2": "post 2, driving jaw", "d1": "D of post 1",
         **{node + k: f"{node.upper()} of post {k}" for node in "gn" for k in "12"}}


def points() -> List[Tuple[str, str, float]]:
    """(what is done, where, volts): no microcontroller board, its socket's contacts tied by wire."""
    out = []
    for what, ties, extra, contact, load, looks in (
        ("nothing tied", {}, [], 1e21, 1e21, ("mid",)),
        ("nothing tied, the meter on post 1", {}, [f"Rmeter wire1 0 {METER_OHM}"], 1e21, 1e21, ("wire1", "d1")),
        ("GPIO2 to the rail", {"pin1": RAIL_V}, [], 1e21, 1e21, ("g1", "n1")),
        ("GPIO6 to the rail, GPIO7 to ground", {"pu1pin": RAIL_V, "pu2pin": 0.0}, [f"Rmeter xjig.n1 0 {METER_OHM}"],
         1e21, 1e21, ("n1",)),
        ("GPIO8 and GPIO2 to the rail, GPIO3 to ground, 100 Ω across posts 1 and 2", {"pin1": RAIL_V, "pin2": 0.0},
         ["Rcheck wire1 wire2 100"], 0.05, 1e21, ("g1", "n1", "n2", "g2")),
        ("GPIO9 to the rail, post 1 to the rail by 100 kΩ, the meter on post 2", {},
         ["Vcheck check 0 3.3", "Rcheck check wire1 100000", f"Rmeter wire2 0 {METER_OHM}"], 1e21, 0.05, ("wire1", "wire2")),
    ):
        deck = [f'.include "{os.path.abspath(front_end.FILE)}"',
                f"Xjig {' '.join(PORTS)} jig drive_contact={contact} sense_contact={contact} load_contact={load}",
                f"Vrail rail 0 {RAIL_V}", *(f"V{pad} {pad} 0 {volts}" for pad, volts in ties.items()), *extra]
        deck += [f"Rfloat{node} {node} 0 1e12" for node in PORTS if node != "rail"]
        vectors = [f"v({node})" if node.startswith("wire") else f"v(xjig.{node})" for node in looks]
        got = run_ngspice(deck, "op", vectors)
        out += [(what, node, got[vector][-1]) for node, vector in zip(looks, vectors)]
    return out


def key_light_ma() -> Dict[str, float]:
    """Through one pair of the key's lights, by the least and most that pads and diodes take; and from a live run."""
    bom = table()
    chain_ohm = 2.0 * sum(ohms(bom[part]) for part in ("R1", "RT1", "R2", "F1"))
    series_ohm = ohms(bom["R205"])
    least, most = ((rail_v - red_v) / (chain_ohm + 2.0 * pad_ohm + series_ohm) * 1e3
                   for rail_v, red_v, pad_ohm in ((RAIL_V * 0.98, RED_V[1], PAD_OHM[1]), (RAIL_V * 1.02, RED_V[0], PAD_OHM[0])))
    live_peak = (33.9 - RED_V[0]) / series_ohm * 1e3
    return {"least": least, "most": most, "live_peak": live_peak, "live_w": (24.0 - 1.7) ** 2 / series_ohm}


def mains() -> List[Tuple[str, float, float, str, float]]:
    """(what, volts, fuse's current over its rating, hottest resistor, watts), contacts welded, clamps as shorts."""
    bom = table()
    fuse_a = float(bom["F1"]["rating"].split()[0]) * 1e-3
    drive, sense = (sum(ohms(bom[part]) for part in path) for path in (("RT1", "R2", "F1"), ("R4", "F2")))
    out = []
    for volts in (120.0, 277.0):
        for what, chain, part in (("two posts, by both drives", 2.0 * drive, "R2"), ("the same, one drive's fuse gone", drive + sense, "R4"),
                                  ("the same, both drives' fuses gone", 2.0 * sense, "R4")):
            amps = volts / chain
            out.append((what, volts, amps / fuse_a, part, amps * amps * ohms(bom[part])))
    return out


def plug_ohms() -> Dict[str, float]:
    """Between two contacts of the end plug, by their numbers: a ring, so one way beside the other."""
    bom, order = table(), ("1", "3", "4", "2")
    ring = [ohms(bom[part]) for part in ("R201", "R202", "R203", "R204")]
    out = {}
    for a in range(4):
        for b in range(a + 1, 4):
            one = sum(ring[a:b])
            out["–".join(sorted((order[a], order[b])))] = one * (sum(ring) - one) / sum(ring)
    return dict(sorted(out.items()))


def lamp_ma() -> Tuple[float, float]:
    """At least and at most."""
    ohm = ohms(table()["R111"])
    return ((RAIL_V - 2.0) / (ohm + PAD_OHM[1]) * 1e3, (RAIL_V - 1.6) / (ohm + PAD_OHM[0]) * 1e3)


def main() -> int:
    for what, node, volts in points():
        print(f"{what:80} {node:6} {volts:7.3f} V")
    for what, value in key_light_ma().items():
        print(f"key's lights, {what}: {value:.2f}")
    for what, volts, times, part, watts in mains():
        print(f"{volts:.0f} VAC, {what}: fuse {times:.2f} times, {part} {watts:.1f} W")
    print("end plug:", ", ".join(f"{pair} {ohm:.2f} Ω" for pair, ohm in plug_ohms().items()))
    print("lamp, mA: {:.1f} to {:.1f}".format(*lamp_ma()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
