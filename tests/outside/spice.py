"""Solves many operating points in one ngspice process and returns node volts.

Run by itself, it checks ngspice against circuits that can be worked out by hand.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from typing import Dict, List, Optional, Sequence, Tuple


class SpiceError(Exception):
    pass


def require() -> str:
    path = shutil.which("ngspice")
    if path is None:
        print("ngspice not found: apt-get install ngspice", file=sys.stderr)
        sys.exit(1)
    return path


def solve(decks: Sequence[List[str]]) -> Dict[str, float]:
    """Element lines of independent circuits (names must differ) -> volts by node, lower case."""
    return _run(decks, "op")


def solve_phasors(decks: Sequence[List[str]], hertz: float) -> Dict[str, complex]:
    """The same at one frequency; what is not linear is taken as it is at its operating point."""
    return _run(decks, f"ac lin 1 {hertz!r} {hertz!r}")


def first_crossings(decks: Sequence[Tuple[List[str], Dict[str, float], str, float]], seconds: float) -> List[Optional[float]]:
    """(element lines, volts at the start by node, node, volts) -> when that node rises through those volts, if it does."""
    lines = ["* independent circuits"]
    for elements, start_v, _, _ in decks:
        for element in elements:
            if element[0] == "C":
                a, b = element.split()[1:3]
                element += f" IC={start_v.get(a.lower(), 0.0) - start_v.get(b.lower(), 0.0)!r}"
            lines.append(element)
    for n, (_, _, node, volts) in enumerate(decks):
        lines.append(f".meas tran x{n} WHEN v({node})={volts!r} RISE=1")
    lines += [".options reltol=1e-5 vntol=1e-7 method=gear", f".tran 1u {seconds!r} 0 0.5u UIC", ".end", ""]
    with tempfile.TemporaryDirectory(prefix="outside-") as folder:
        with open(os.path.join(folder, "deck.cir"), "w", encoding="ascii") as f:
            f.write("\n".join(lines))
        done = subprocess.run([require(), "-b", "deck.cir"], cwd=folder, capture_output=True, text=True, timeout=300)
    said = done.stdout + done.stderr
    found = dict(re.findall(r"^x(\d+)\s*=\s*(\S+)", said, re.MULTILINE))
    failed = set(re.findall(r"meas tran x(\d+) .*failed", said))
    for n in map(str, range(len(decks))):
        if (n in found) == (n in failed):
            raise SpiceError(f"ngspice does not say whether circuit {n} rises (exit status {done.returncode}):\n{said}")
    return [float(found[n]) if n in found else None for n in map(str, range(len(decks)))]


def _run(decks: Sequence[List[str]], analysis: str) -> Dict:
    ngspice = require()
    with tempfile.TemporaryDirectory(prefix="outside-") as folder:
        raw = os.path.join(folder, "op.raw")
        deck = os.path.join(folder, "deck.cir")
        with open(deck, "w", encoding="ascii") as f:
            f.write("* independent circuits\n")
            for lines in decks:
                f.write("\n".join(lines) + "\n")
            f.write(
                ".options reltol=1e-9 vntol=1e-12 abstol=1e-15\n"
                f".control\nset filetype=ascii\nset numdgt=15\n{analysis}\n"
                f"write {os.path.basename(raw)} all\nquit 0\n.endc\n.end\n"
            )
        done = subprocess.run(
            [ngspice, "-b", "deck.cir"], cwd=folder, capture_output=True, text=True, timeout=300
        )
        said = done.stdout + done.stderr
        if not os.path.exists(raw):
            raise SpiceError(f"ngspice gave no result (exit status {done.returncode}):\n{said}")
        for word in ("singular", "gmin stepping", "Error", "no convergence"):
            if word.lower() in said.lower():
                raise SpiceError(f"ngspice complained ({word}):\n{said}")
        with open(raw, encoding="ascii") as f:
            return _read_raw(f.read())


def _read_raw(text: str) -> Dict:
    head, _, values = text.partition("\nValues:\n")
    names = []
    listed = head.partition("\nVariables:")[2]
    for line in listed.splitlines():
        part = line.split()
        if len(part) >= 3 and part[0].isdigit():
            names.append((part[1], part[2]))
    numbers = values.split()[1:]  # the first is the point's index
    if len(numbers) != len(names):
        raise SpiceError(f"raw file: {len(names)} names, {len(numbers)} values")
    out = {}
    for (name, kind), number in zip(names, numbers):
        if kind == "voltage":
            inner = name[2:-1] if name.startswith("v(") else name
            real, _, imaginary = number.partition(",")
            out[inner.lower()] = complex(float(real), float(imaginary)) if imaginary else float(real)
    return out


def _hand_checks() -> List[Tuple[str, float, float]]:
    """(what, by ngspice, by hand)."""
    from jig_netlist import Jig, State, netlist
    from run_netlist import Conductor, RING_OHM, Run

    out = []
    got = solve([["V1 a 0 DC 3.3", "R1 a b 1e6", "R2 b 0 0.05"]])
    out.append(("divider 1 Mohm / 50 mohm", got["b"], 3.3 * 0.05 / (1e6 + 0.05)))

    # Without anything that loads, a pair's loop is a chain of resistors round the ring.
    none = 1e15
    jig = Jig(bridge_ohm=none, pull_ohm=none, divider_top_ohm=none)
    ohms = (1.0, 2.0, 3.0, 4.0)
    run = Run(tuple(Conductor(o, k, 0.03) for k, o in enumerate(ohms, 1)))
    got = solve([netlist(jig, run, State("HLZZ"), "_0")])
    chain = RING_OHM[0] + RING_OHM[1] + RING_OHM[2]
    ring = chain * RING_OHM[3] / (chain + RING_OHM[3])
    half = 30.0 + 220.0 + 22.0 + 330.0 + 0.05 + 0.02 + 0.03
    amps = 3.3 / (2 * half + 1.0 + 2.0 + ring)
    out.append(("G1-N1 over 330.07 ohm", got["g1_0"] - got["n1_0"], amps * 330.07))
    out.append(("N1-N2 over run and ring", got["n1_0"] - got["n2_0"], amps * (3.06 + ring)))
    branch = amps * RING_OHM[3] / (chain + RING_OHM[3])
    out.append(("N3-N4 over 47.5 ohm", got["n3_0"] - got["n4_0"], branch * RING_OHM[1]))

    # The 10 kohm bridge brings 4.7/14.7 of the drop in contact and drive jaw to N; the current
    # through bridge and sense path is its share of the same drop.
    got = solve([netlist(Jig(pull_ohm=none, divider_top_ohm=none), run, State("HLZZ"), "_0")])
    drop = got["j1_0"] - got["wire1_0"]
    seen = got["n1_0"] - got["wire1_0"]
    out.append(("N1 above the post", seen, drop * 4700.02 / 14700.02))
    return out


def main() -> int:
    bad = 0
    for what, spice, hand in _hand_checks():
        off = abs(spice - hand)
        good = off < 1e-7  # the insulation of 1 Tohm is worth 10 nV
        bad += not good
        print(f"{'ok  ' if good else 'FAIL'} {what}: {spice:.9f} V, by hand {hand:.9f} V, off {off * 1e9:.3f} nV")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
