"""Checks the tables of firmware/jig that are computed: volts at first power, currents of lamps and lights.

    python3 tests/jig/check_figures.py [--write]
"""

import sys

import figures
from written import between_marks, report, table

COMMAND = "tests/jig/check_figures.py --write"


def main() -> int:
    write = "--write" in sys.argv
    volts = table(["tied, at the empty socket", "measured against the jig's ground", "volts"],
                  [[what, figures.WHERE[node], f"{volts:.2f}"] for what, node, volts in figures.points()])
    light = figures.key_light_ma()
    least, most = figures.lamp_ma()
    lights = table(["current", "of", "by"], [
        [f"{light['least']:.2f} – {light['most']:.2f} mA", "one pair of the key's lights, through the jig and a short run",
         "rail 3.3 V ± 2 %, pads 25–57 Ω, diodes 1.6–1.8 V, nominal resistors"],
        [f"{light['live_peak']:.0f} mA peak, {light['live_w']:.2f} W in its resistor",
         "the same on a run that is live at 24 VAC, no jig", "33.9 V peak; power if it flowed in both half waves, as it does"],
        [f"{least:.1f} – {most:.1f} mA", "a lamp of a post", "diodes 1.6–2.0 V, pads 25–57 Ω"],
    ])
    wrong = between_marks("first-power.md", "volts", volts, write, COMMAND)
    wrong += between_marks("far-end.md", "lights", lights, write, COMMAND)
    plug = figures.plug_ohms()
    ring = table(list(plug), [[f"{ohm:.1f} Ω" for ohm in plug.values()]])
    wrong += between_marks("far-end.md", "ring", ring, write, COMMAND)
    welded = table(["on", "way", "of a fuse's 63 mA", "power"], [
        [f"{volts:.0f} VAC", what, f"{times:.1f} times", f"{watts:.1f} W in {part}"] for what, volts, times, part, watts in figures.mains()])
    wrong += between_marks("README.md", "mains", welded, write, COMMAND)
    return report(wrong, f"{len(volts) - 2} voltages, {len(lights) - 2} currents and {len(plug)} resistances stand as they are computed")


if __name__ == "__main__":
    sys.exit(main())
