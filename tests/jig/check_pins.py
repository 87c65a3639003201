"""Checks the pin table of firmware/jig/pins.md against the firmware and the emulated bench.

    python3 tests/jig/check_pins.py

A pin that the code does not use yet is no error; one that it uses for something else is.
"""

import os
import re
import sys
from typing import Dict, List

from parts import FOLDER
from written import report

TOP = os.path.join(FOLDER, "../..")
FIRMWARE = "firmware/src/boards/rp2040/pins.rs"
BENCH = "tests/emulator/bench/pins.mjs"
# What the code calls a pin, by what pins.md calls it (less a post's or line's number).
CALLED = {
    "SDA": ("sda", "i2c"), "SCL": ("scl",), "DRIVE": ("posts", "drives"), "PULL": ("pulls",), "RELAYS": ("relays",),
    "LOAD": ("load",), "SUPPLYLOAD": ("supply_load", "supplyLoad"), "RING": ("ring",), "REF": ("references",), "LAMP": ("lamps", "leds"), "SOUNDER": ("sounder", "buzzer", "tone"),
    "KEY": ("key", "button"), "FOLLOW": ("followers",), "EDGE": ("edges", "catchers"),
}


def documented() -> Dict[str, List[int]]:
    """Pins by net, in the order of the posts."""
    found: Dict[str, List[int]] = {}
    with open(os.path.join(FOLDER, "pins.md"), encoding="utf-8") as f:
        for pin, net in re.findall(r"^\| GPIO(\d+) \| ([A-Z]+)\d? \|", f.read(), re.MULTILINE):
            found.setdefault(net, []).append(int(pin))
    return found


def in_firmware() -> Dict[str, List[int]]:
    with open(os.path.join(TOP, FIRMWARE), encoding="utf-8") as f:
        body = f.read().partition("Self {")[2]
    fields = re.findall(r"^            (\w+): ((?:(?!^            \w+:).)*)", body, re.MULTILINE | re.DOTALL)
    found = {name: [int(pin) for pin in re.findall(r"\bPIN_(\d+)", value)] for name, value in fields}
    return {name: pins for name, pins in found.items() if pins}


def on_bench() -> Dict[str, List[int]]:
    with open(os.path.join(TOP, BENCH), encoding="utf-8") as f:
        text = f.read()
    return {name: [int(pin) for pin in re.findall(r"\d+", value)]
            for name, value in re.findall(r"^  (\w+): (\[[\d, ]*\]|\d+),", text, re.MULTILINE)}


def main() -> int:
    table = documented()
    wrong = [f"pins.md has no net {net}: it should have a row for each pin" for net in CALLED if net not in table]
    wrong += [f"pins.md has a net {net} that this check does not know: add it to CALLED" for net in table if net not in CALLED]
    used = 0
    for path, code in ((FIRMWARE, in_firmware()), (BENCH, on_bench())):
        if len(code) < 8:
            wrong.append(f"{path}: only {sorted(code)} could be read from it; it is written otherwise than this check expects")
        for name, pins in code.items():
            net = next((net for net, names in CALLED.items() if name in names), None)
            used += len(pins)
            if net is None:
                wrong.append(f"{path}: {name} is on GPIO{pins}, which net of pins.md is it? Add it to CALLED in {os.path.basename(__file__)}")
            elif table.get(net) != pins:
                wrong.append(f"{path}: {name} is on GPIO{pins}, pins.md says that {net} is on GPIO{table.get(net)}: make one the other")
    return report(wrong, f"pins.md agrees with {FIRMWARE} and {BENCH}: {used} pins looked at")


if __name__ == "__main__":
    sys.exit(main())
