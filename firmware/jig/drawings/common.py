"""Draws what the posts share: supply and its clamp, isolator, converters, followers, coils, lamps, sounder, key."""

import schemdraw.elements as elm

from sheet import Sheet


def draw() -> Sheet:
    s = Sheet("common")
    s.note((-1.4, 17.2), "runproof: what the four posts share. Not built yet. Values: bom.csv. All grounds here are the jig's own, behind the isolator.", 12)
    _supply(s)
    _converters(s)
    _coils(s)
    _supply_load(s)
    _front(s)
    return s


def _supply(s: Sheet) -> None:
    y = 14.6
    s.note((-1.4, y + 1.7), "Supply", 12)
    s.box((-0.4, y + 0.6), (3.2, 2.6), "A1\nUSB isolator,\nreinforced,\n≥ 300 VAC working")
    s.drawn.update(("A1", "A2", "U1", "U2", "U3", "U101"))
    s.wire((-1.2, y), (-0.4, y))
    s.note((-1.25, y + 0.75), "USB", align="left")
    s.wire((2.8, y), (5.2, y))
    s.note((2.95, y + 0.5), "5 V, isolated")
    s.wire((3.6, y), (3.6, y - 0.7))
    s.tag((3.6, y - 0.7), "coils,\nsounder", "right")
    s.wire((2.8, y - 1.6), (5.2, y - 1.6))
    s.note((2.95, y - 1.7), "USB data")
    s.box((5.2, y + 0.6), (3.2, 2.6), "A2\nmicrocontroller\nboard RP2040; its\nown connector\nstays inside")
    s.dot((3.6, y))
    s.wire((8.4, y), (17.6, y))
    s.rail((17.6, y), "3.3 V rail")
    s.part(elm.Capacitor, "C101", (9.2, y), (9.2, y - 3))
    s.ground((9.2, y - 3))
    # The clamp.
    s.part(elm.Resistor, "R103", (11.4, y), (11.4, y - 1.6))
    s.part(elm.Resistor, "R104", (11.4, y - 1.6), (11.4, y - 3.2))
    s.ground((11.4, y - 3.2))
    s.wire((11.4, y - 1.6), (13.2, y - 1.6))
    s.box((13.2, y - 1.1), (1.8, 1), "U101\n2.495 V", 0.15)
    s.wire((14.1, y), (14.1, y - 1.1))
    s.wire((14.1, y - 2.1), (14.1, y - 3.2))
    s.ground((14.1, y - 3.2))
    s.note((14.4, y - 2.25), "clamp:\n3.473 V")
    # The middle.
    s.part(elm.Resistor, "R107", (16.4, y), (16.4, y - 1.6))
    s.part(elm.Resistor, "R108", (16.4, y - 1.6), (16.4, y - 3.2))
    s.ground((16.4, y - 3.2))
    s.wire((16.4, y - 1.6), (18.4, y - 1.6))
    s.d.add(elm.Opamp(leads=False).right().at((18.4, y - 1.6)).anchor("in2").scale(0.8).label("U102", "center", fontsize=9, ofst=(-0.15, 0)))
    s.drawn.add("U102")
    out = (19.95, y - 1.2)
    s.wire((18.4, y - 0.8), (18.1, y - 0.8), (18.1, y - 0.1), (20.2, y - 0.1), (20.2, out[1]))
    s.wire(out, (21.0, out[1]))
    s.dot((20.2, out[1]), (9.2, y), (11.4, y), (14.1, y), (16.4, y), (11.4, y - 1.6), (16.4, y - 1.6))
    s.tag((21.0, out[1]), "VMID, 1.65 V\n(to every R14)", "right")


def _converters(s: Sheet) -> None:
    y = 8.6
    s.note((-1.4, y + 2.4), "Converters, followers, pull lines", 12)
    s.part(elm.Resistor, "R105", (-0.2, y + 0.4), (-0.2, y - 1.2))
    s.part(elm.Resistor, "R106", (1.6, y + 0.4), (1.6, y - 1.2))
    s.rail((-0.2, y + 0.4))
    s.rail((1.6, y + 0.4))
    s.wire((-0.2, y - 1.2), (-0.2, y - 2.2))
    s.wire((1.6, y - 1.2), (1.6, y - 1.7))
    s.wire((-0.8, y - 1.7), (9.5, y - 1.7))
    s.wire((-0.8, y - 2.2), (10.2, y - 2.2))
    s.tag((-0.8, y - 1.7), "GPIO0 SDA")
    s.tag((-0.8, y - 2.2), "GPIO1 SCL")
    s.dot((1.6, y - 1.7), (-0.2, y - 2.2))
    for x, name, text in ((4.2, "U1", "N1–N4\n0x48: address\nto ground"), (6.9, "U2", "G1–G4 by R3\n0x49: address\nto rail"), (9.6, "U3", "D1–D4\n0x4A: address\nto SDA")):
        s.box((x - 0.6, y + 1.2), (2.3, 2.2), f"{name} ADS1115\n{text}", 0.2)
        s.wire((x - 0.1, y - 1.0), (x - 0.1, y - 1.7))
        s.wire((x + 0.6, y - 1.0), (x + 0.6, y - 2.2))
        s.dot((x - 0.1, y - 1.7), (x + 0.6, y - 2.2))
    # One follower of four.
    s.d.add(elm.Opamp(leads=False).right().at((15.2, y + 0.2)).anchor("in2").scale(0.8).label("U103", "center", fontsize=9, ofst=(-0.15, 0)))
    s.drawn.add("U103")
    s.tag((14.4, y + 0.2), "D")
    s.wire((14.4, y + 0.2), (15.2, y + 0.2))
    s.wire((15.2, y + 1.0), (14.9, y + 1.0), (14.9, y + 1.7), (17.0, y + 1.7), (17.0, y + 0.6))
    s.wire((16.75, y + 0.6), (17.6, y + 0.6))
    s.dot((17.0, y + 0.6))
    s.tag((17.6, y + 0.6), "GPIO 25 + k\n(one of four)", "right")
    # One pull line of two.
    s.tag((14.2, y - 2.6), "GPIO6, 7")
    s.part(elm.Resistor, "R101", (14.2, y - 2.6), (16.6, y - 2.6))
    s.drawn.add("R102")
    s.wire((16.6, y - 2.6), (18.8, y - 2.6))
    s.dot((17.6, y - 2.6))
    s.part(elm.Schottky, "D101", (17.6, y - 2.6), (17.6, y - 1.0))
    s.rail((17.6, y - 1.0))
    s.part(elm.Schottky, "D102", (17.6, y - 4.2), (17.6, y - 2.6))
    s.ground((17.6, y - 4.2))
    s.drawn.update(("D103", "D104"))
    s.tag((18.8, y - 2.6), "PU1 (PU2: R102,\nD103, D104)", "right")


def _coils(s: Sheet) -> None:
    y = 1.6
    s.note((-1.4, y + 2.9), "Coils: off unless driven", 12)
    _coil(s, (0.6, y), "GPIO8", "Q1", "R109", "K1 × 4")
    _coil(s, (6.8, y), "GPIO9", "Q2", "R110", "K2, K3")
    s.drawn.update(("K3", "DZ1"))


def _coil(s: Sheet, at, pin: str, transistor: str, foot: str, coils: str) -> None:
    x, y = at
    s.tag((x, y - 0.9), pin)
    s.wire((x, y - 0.9), (x + 2.0, y - 0.9))
    s.part(elm.Resistor, foot, (x + 0.4, y - 0.9), (x + 0.4, y - 2.6))
    s.ground((x + 0.4, y - 2.6))
    s.dot((x + 0.4, y - 0.9))
    fet = s.d.add(elm.NFet(bulk=False).right().reverse().at((x + 2.0, y - 0.9)).anchor("gate"))
    s.drawn.add(transistor)
    s.note((x + 3.1, y - 0.8), transistor)
    drain, source = fet.absanchors["drain"], fet.absanchors["source"]
    s.wire(tuple(source), (source[0], y - 2.6))
    s.ground((source[0], y - 2.6))
    column, top, middle = drain[0], y + 1.8, y + 0.8
    s.wire(tuple(drain), (column, y))
    name, _, others = coils.partition(" ")
    s.part(elm.Inductor, name.rstrip(","), (column, y), (column, top), loc="left", text=others or None)
    s.rail((column, top), "5 V")
    s.wire((column, y), (column + 1.2, y))
    # Their order does not matter; one blocks while the coil is on, the other gives it 12 V to fall against.
    s.d.add(elm.Zener().at((column + 1.2, middle)).to((column + 1.2, y)))
    s.d.add(elm.Diode().at((column + 1.2, middle)).to((column + 1.2, top)))
    s.note((column + 1.6, middle + 0.4), "DZ1, both\nat each coil")
    s.wire((column + 1.2, top), (column, top))
    s.dot((column, y), (column, top))


def _supply_load(s: Sheet) -> None:
    y = -5.6
    s.note((-1.4, y + 2.9), "Supply load: may be left out", 12)
    _coil(s, (0.6, y), "GPIO24", "Q4", "R119", "K4")
    at = y - 0.6
    s.tag((8.6, at), "driving lead\nof post 3")
    s.part(elm.Switch, "K4", (8.6, at), (10.4, at))
    s.part(elm.Fuse, "F101", (10.4, at), (12.4, at))
    s.part(elm.Resistor, "R118", (12.4, at), (14.6, at))
    s.part(elm.Switch, "K4", (14.6, at), (16.4, at))
    s.tag((16.4, at), "driving lead\nof post 4", "right")


def _front(s: Sheet) -> None:
    y = 1.6
    s.note((12.5, y + 2.3), "Lamps, sounder, key", 12)
    s.tag((15.9, y + 1), "GPIO14–17")
    s.part(elm.Resistor, "R111–R114", (15.9, y + 1), (18.5, y + 1))
    s.part(elm.LED, "LED1–LED4", (18.5, y + 1), (20.9, y + 1), loc="bottom", ofst=0.15)
    s.ground((20.9, y + 1))
    for n in (2, 3):
        s.drawn.update((f"R11{n}", f"LED{n}"))
    s.tag((15.9, y - 1.1), "GPIO18")
    s.part(elm.Resistor, "R115", (15.9, y - 1.1), (17.9, y - 1.1))
    s.d.add(elm.BjtNpn().at((17.9, y - 1.1)).anchor("base").label("Q3", "right"))
    s.drawn.add("Q3")
    bjt = s.d.elements[-1]
    collector, emitter = bjt.absanchors["collector"], bjt.absanchors["emitter"]
    s.wire(tuple(emitter), (emitter[0], y - 2.2))
    s.ground((emitter[0], y - 2.2))
    s.wire(tuple(collector), (collector[0], y - 0.35), (20.5, y - 0.35))
    s.part(elm.Resistor, "R116", (20.5, y - 0.35), (22.7, y - 0.35), loc="top")
    s.wire((20.5, y - 0.35), (20.5, y - 1.4), (21.1, y - 1.4))
    s.box((21.1, y - 1.05), (1, 0.7), "LS1", 0.1)
    s.drawn.add("LS1")
    s.wire((22.1, y - 1.4), (22.7, y - 1.4), (22.7, y - 0.35))
    s.dot((20.5, y - 0.35), (22.7, y - 0.35))
    s.wire((22.7, y - 0.35), (22.7, y + 0.1))
    s.rail((22.7, y + 0.1), "5 V")
    s.tag((15.9, y - 3.3), "GPIO19")
    s.part(elm.Resistor, "R117", (15.9, y - 3.3), (18.5, y - 3.3))
    s.d.add(elm.Button().at((18.5, y - 3.3)).to((20.5, y - 3.3)).label("S1", ofst=0.2))
    s.drawn.add("S1")
    s.ground((20.5, y - 3.3))
