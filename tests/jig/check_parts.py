"""Checks firmware/jig/bom.csv against front-end.cir and what the firmware says of itself, and parts.md against them.

    python3 tests/jig/check_parts.py [--write]

With --write the table in parts.md is written anew. Exit status 1 if a part has another value in the
list than in the netlist, or another number, or is in one of them only.
"""

import os
import re
import sys
from typing import Dict, List

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "../outside"))

import front_end
import parts
from written import between_marks, report, table

COMMAND = "tests/jig/check_parts.py --write"
POSTS = 4
# Not parts but what they do or what is beside them: contacts, jaws, pads and tracks, the buffer's output.
NOT_PARTS = re.compile(r"RK\d[AB]?|RJ\d|Cdrive|Vmid|Rmid")
RING = ("R201", "R202", "R203", "R204")
# identity.rs rounds a fuse to whole ohms.
UNITS, IDENTITY_BAR = {"Milliohms": 1e-3, "Picofarads": 1e-12}, 1e-3
REFERENCE_V, CLAMP_BAR_V = 2.495, 2e-3


def of_netlist() -> Dict[str, Dict[str, float]]:
    """By sub-circuit, each part's value."""
    found: Dict[str, Dict[str, float]] = {}
    for block, it in front_end.blocks().items():
        found[block] = {}
        for part in it.parts:
            for name, value in zip(part.name.split("_"), part.values):
                if not NOT_PARTS.fullmatch(name):
                    shown = name[1:] if name.startswith("RF") or name.startswith("RRT") else name
                    number = it.parameters[value[1:-1]] if value[0] == "{" else float(value)
                    found[block][shown] = number
    return found


def compared(bom: Dict[str, Dict[str, str]]) -> List[str]:
    wrong = []
    netlist = of_netlist()
    for block, values in netlist.items():
        for name, value in values.items():
            if name not in bom:
                wrong.append(f"{name} of .subckt {block} is not in bom.csv: add it, or take it out of front-end.cir")
            elif abs(parts.value(bom[name]) / value - 1.0) > 1e-6:
                wrong.append(f"{name} is {bom[name]['value']} in bom.csv, {value:g} in front-end.cir (.subckt {block}): make one the other")
    for row in parts.rows():
        names = row["part"].split()
        if all(name in netlist["post"] for name in names) and int(row["quantity"]) != POSTS * len(names):
            wrong.append(f"{row['part']}: {row['quantity']} in bom.csv, {POSTS} posts have {POSTS * len(names)} of them")
    clamp_v = REFERENCE_V * (1.0 + parts.value(bom["R103"]) / parts.value(bom["R104"]))
    told_v = front_end.blocks()["supply"].parameters["v_clamp"]
    if abs(clamp_v - told_v) > CLAMP_BAR_V:
        wrong.append(f"R103 and R104 of bom.csv make a clamp of {clamp_v:.3f} V, front-end.cir says {told_v} V: make one the other")
    return wrong


def told_by_firmware(bom: Dict[str, Dict[str, str]]) -> List[str]:
    """Where the identity that every jig tells its host is not that of these parts."""
    ohm = {name: parts.value(bom[name]) for name in ("R2", "F1", "R4", "R5", "R6", "R7", "R11", "R12", "R13", "R14", "R118", "F101", *RING)}
    expected = {
        "SERIES": [ohm["R2"] + ohm["F1"]], "PULL": [(ohm["R6"] + ohm["R7"]) / 2.0], "SENSE": [1.0 / (1.0 / ohm["R4"] + 1.0 / ohm["R5"])],
        "DIVIDER": [ohm["R11"] + ohm["R12"] + ohm["R13"] + ohm["R14"]], "RING": [ohm[name] for name in RING],
        "REFERENCE": [parts.value(bom["C2"])],
        "SUPPLY_LOAD": [ohm["R118"] + ohm["F101"]],
    }
    with open(os.path.join(parts.FOLDER, "../src/identity.rs"), encoding="utf-8") as f:
        text = f.read()
    wrong = []
    for name, should in expected.items():
        body = re.search(rf"const {name}: [^=]*=\s*([^;]*);", text)
        told = [float(n.replace("_", "")) * UNITS[unit] for unit, n in re.findall(r"(Milliohms|Picofarads)\(([\d_]+)\)", body[1] if body else "")]
        if len(told) != len(should) or any(abs(t / s - 1.0) > IDENTITY_BAR for t, s in zip(told, should)):
            wrong.append(f"{name} of firmware/src/identity.rs is {told}, bom.csv's parts make {should}: make one the other")
    return wrong


def main() -> int:
    rows = parts.rows()
    wrong = compared(parts.table()) + told_by_firmware(parts.table())
    wrong += [f"bom.csv: {row['part']} has no {column}" for row in rows for column in ("quantity", "what", "from") if not row[column]]
    lines = table(["part", "number", "what", "value", "tolerance", "must be", "why", "from"],
                  [[row[column] for column in parts.COLUMNS] for row in rows])
    wrong += between_marks("parts.md", "parts", lines, "--write" in sys.argv, COMMAND)
    return report(wrong, f"{len(rows)} kinds of parts: list, netlist, table and the firmware agree")


if __name__ == "__main__":
    sys.exit(main())
