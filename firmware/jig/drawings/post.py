"""Draws one post: clip, relay, drive, sense, pulls, live divider. The four are alike."""

import schemdraw.elements as elm

from sheet import SMALL, Sheet


def draw() -> Sheet:
    s = Sheet("one post")
    s.note((-1.4, 16.4), "runproof: one post of four, k = 1 to 4. Not built yet. Values: bom.csv; the same circuit as text: front-end.cir.", 12)

    # The drive, from the chip to the driving jaw.
    y = 12
    s.tag((0, y), "GPIO 1 + k\n(drive)")
    s.part(elm.Resistor, "R1", (0, y), (2.5, y))
    s.wire((2.5, y), (4, y))
    _clamp(s, (3.2, y), "D1", "D2")
    s.part(elm.Resistor, "RT1", (4, y), (6.5, y))
    s.dot((6.9, y))
    s.wire((6.5, y), (7.4, y))
    s.note((6.95, y - 0.15), "G", 12)
    s.part(elm.Resistor, "R3", (6.9, y), (6.9, y + 2.4))
    s.wire((6.9, y + 2.4), (7.6, y + 2.4))
    s.tag((7.6, y + 2.4), "U2 (0x49), input k − 1", "right")
    s.part(elm.Resistor, "R2", (7.4, y), (10, y))
    s.part(elm.Fuse, "F1", (10, y), (12.2, y))
    s.wire((12.2, y), (13, y))
    s.dot((12.6, y))
    s.note((12.7, y - 0.15), "J", 12)
    s.d.add(elm.Switch().at((13, y)).to((15.2, y)).label(s.named("K1") + " pole A", ofst=0.35))
    s.wire((15.2, y), (18, y))
    s.d.add(elm.Line(arrow="->").at((18, y)).to((19, y)))
    s.note((19.2, y + 0.2), "J1 driving jaw")
    s.drawn.update(("J1", "J2"))

    # The sense path, from the sensing jaw to the converter.
    y = 7
    s.d.add(elm.Line(arrow="->").at((18, y)).to((19, y)))
    s.note((19.2, y + 0.2), "J2 sensing jaw")
    s.wire((15.2, y), (18, y))
    s.d.add(elm.Switch().at((13, y)).to((15.2, y)).label("K1 pole B", ofst=0.35))
    s.part(elm.Fuse, "F2", (10.8, y), (13, y))
    s.part(elm.Resistor, "R4", (8.2, y), (10.8, y))
    s.wire((0, y), (8.2, y))
    s.tag((0, y), "U1 (0x48)\ninput k − 1")
    s.dot((7.4, y))
    s.note((7.5, y - 0.15), "N", 12)
    _clamp(s, (2, y), "D3", "D4")
    s.part(elm.Capacitor, "C1", (4.3, y), (4.3, y - 2))
    s.ground((4.3, y - 2))
    s.dot((4.3, y))
    # With the relay open.
    s.wire((12.6, y + 5), (12.6, y + 3))
    s.part(elm.Resistor, "R5", (12.6, y + 3), (10, y + 3))
    s.wire((10, y + 3), (7.4, y + 3), (7.4, y))

    # Pulls and the rise's reference, below N.
    s.wire((7.4, y), (7.4, y - 3))
    s.wire((5.9, y - 3), (10.5, y - 3))
    s.dot((7.4, y - 3), (8.4, y - 3))
    for x, names, line in ((5.9, ("R6", "R7"), "PU1"), (8.4, ("R8", "R9"), "PU2")):
        s.part(elm.Resistor, names[0], (x, y - 3), (x, y - 4.8))
        s.part(elm.Resistor, names[1], (x, y - 4.8), (x, y - 6.6))
        s.d.add(elm.Dot(open=True).at((x, y - 6.6)))
        s.note((x, y - 6.8), line, align="center")
    s.wire((10.5, y - 3), (10.9, y - 3))
    s.part(elm.Capacitor, "C2", (10.9, y - 3), (10.9, y - 5))
    s.d.add(elm.Dot(open=True).at((10.9, y - 5)))
    s.note((10.6, y - 5.2), "GPIO 9 + k\n(reference)")

    # Between the jaws, and the load.
    s.part(elm.Resistor, "R10", (16.4, 12), (16.4, 7))
    s.dot((16.4, 12), (16.4, 7))
    s.part(elm.Switch, "K2", (17.6, 12), (17.6, 13.6), text=None)
    s.dot((17.6, 12))
    s.note((18.05, 12.55), "or K3")
    s.part(elm.Resistor, "R15", (17.6, 13.6), (17.6, 15.2))
    s.d.add(elm.Dot(open=True).at((17.6, 15.2)))
    s.note((17.85, 15.35), "STAR, of all four")

    # The live divider: always connected.
    x = 16.4
    for n, name in enumerate(("R11", "R12", "R13")):
        s.part(elm.Resistor, name, (x, 7 - 1.7 * n), (x, 5.3 - 1.7 * n), loc="left")
    foot = 7 - 1.7 * 3
    s.dot((x, foot))
    s.note((x - 0.25, foot + 0.2), "D", 12, "right")
    s.part(elm.Resistor, "R14", (x, foot), (x, foot - 1.7), loc="left")
    s.d.add(elm.Dot(open=True).at((x, foot - 1.7)))
    s.note((x, foot - 1.9), "VMID, 1.65 V", align="center")
    s.wire((x, foot), (17.4, foot))
    s.tag((17.4, foot), "U3 (0x4A), input k − 1,\nand by a follower, U103,\nGPIO 25 + k", "right")
    return s


def _clamp(s: Sheet, at, upper: str, lower: str) -> None:
    x, y = at
    s.dot(at)
    s.part(elm.Diode if upper == "D3" else elm.Schottky, upper, at, (x, y + 1.8), loc="left")
    s.rail((x, y + 1.8))
    s.part(elm.Diode if upper == "D3" else elm.Schottky, lower, (x, y - 1.8), at, loc="left")
    s.ground((x, y - 1.8))
