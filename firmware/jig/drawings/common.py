"""Draws what the posts share: supply and its clamp, isolator, converters, followers, coils, lamps, sounder, key."""

import schemdraw.elements as elm

from sheet import Sheet


def draw() -> Sheet:
    s = Sheet("common")
    s.note((-1.4, 17.2), "runproof: what the four posts share. Not built yet. Values: bom.csv. All grounds here are the jig's own, behind the isolator.", 12)
    _supply(s)
    _converters(s)
    _coils(s)
    _front(s)
    return s


def _supply(s: Sheet) -> None:
    y = 14.6
    s.note((-1.4, y + 1.5), "Supply", 12)
    s.box((0.6, y + 0.6), (3, 2.6), "A1\nUSB isolator,\nreinforced,\n≥ 300 VAC working")
    s.drawn.update(("A1", "A2", "U1", "U2", "U3", "U101"))
    s.wire((-0.2, y), (0.6, y))
    s.note((-0.3, y + 0.35), "from\ncomputer", align="right")
    s.wire((3.6, y), (5.2, y))
    s.note((3.75, y + 0.5), "isolated 5 V")
    s.dot((4.5, y))
    s.wire((4.5, y), (4.5, y - 1))
    s.tag((4.5, y - 1), "5 V: coils, sounder", "right")
    s.wire((3.6, y - 1.6), (5.2, y - 1.6))
    s.note((3.75, y - 1.7), "USB data")
    s.box((5.2, y + 0.6), (3, 2.6), "A2\nmicrocontroller\nboard RP2040,\nits own connector\nstays inside")
    s.wire((8.2, y), (17.6, y))
    s.rail((17.6, y), "3.3 V rail")
    s.part(elm.Capacitor, "C101", (9.2, y), (9.2, y - 3))
    s.ground((9.2, y - 3))
    # The clamp.
    s.part(elm.Resistor, "R103", (11.4, y), (11.4, y - 1.6))
    s.part(elm.Resistor, "R104", (11.4, y - 1.6), (11.4, y - 3.2))
    s.ground((11.4, y - 3.2))
    s.wire((11.4, y - 1.6), (13.2, y - 1.6))
    s.box((13.2, y - 1.1), (1.8, 1), "U101\n2.495 V", 0.2)
    s.wire((14.1, y), (14.1, y - 1.1))
    s.wire((14.1, y - 2.1), (14.1, y - 3.2))
    s.ground((14.1, y - 3.2))
    s.note((13.0, y - 2.4), "3.473 V\nclamp", align="right")
    # The middle.
    s.part(elm.Resistor, "R107", (16.4, y), (16.4, y - 1.6))
    s.part(elm.Resistor, "R108", (16.4, y - 1.6), (16.4, y - 3.2))
    s.ground((16.4, y - 3.2))
    s.wire((16.4, y - 1.6), (18.4, y - 1.6))
    s.d.add(elm.Opamp(leads=False).at((18.4, y - 1.6)).anchor("in2").scale(0.8).label("U102", "center", fontsize=9, ofst=(-0.15, 0)))
    s.drawn.add("U102")
    out = (19.95, y - 1.2)
    s.wire((18.4, y - 0.8), (18.1, y - 0.8), (18.1, y - 0.1), (20.2, y - 0.1), (20.2, out[1]))
    s.wire(out, (21.0, out[1]))
    s.dot((20.2, out[1]), (9.2, y), (11.4, y), (14.1, y), (16.4, y), (11.4, y - 1.6), (16.4, y - 1.6))
    s.tag((21.0, out[1]), "VMID, 1.65 V\n(to every R14)", "right")


def _converters(s: Sheet) -> None:
    y = 9.4
    s.note((-1.4, y + 1.0), "Converters, followers, pull lines", 12)
    s.part(elm.Resistor, "R105", (0.6, y + 0.4), (0.6, y - 1.2))
    s.part(elm.Resistor, "R106", (2.4, y + 0.4), (2.4, y - 1.2))
    s.rail((0.6, y + 0.4))
    s.rail((2.4, y + 0.4))
    s.wire((0.6, y - 1.2), (0.6, y - 2.2))
    s.wire((2.4, y - 1.2), (2.4, y - 1.7))
    s.wire((-0.4, y - 1.7), (10.2, y - 1.7))
    s.wire((-0.4, y - 2.2), (10.2, y - 2.2))
    s.tag((-0.4, y - 1.7), "GPIO0 SDA")
    s.tag((-0.4, y - 2.2), "GPIO1 SCL")
    s.dot((2.4, y - 1.7), (0.6, y - 2.2))
    for x, name, text in ((4.2, "U1", "N of posts\n1–4; address\n0x48: ground"), (6.9, "U2", "G by R3; \n0x49: rail"), (9.6, "U3", "D of posts\n1–4; 0x4A:\nSDA")):
        s.box((x - 0.6, y + 1.2), (2.3, 2.2), f"{name} ADS1115\n{text}", 0.2)
        s.wire((x - 0.1, y - 1.0), (x - 0.1, y - 1.7))
        s.wire((x + 0.6, y - 1.0), (x + 0.6, y - 2.2))
        s.dot((x - 0.1, y - 1.7), (x + 0.6, y - 2.2))
    # One follower of four.
    s.d.add(elm.Opamp(leads=False).at((14.2, y + 0.2)).anchor("in2").scale(0.8).label("U103", "center", fontsize=9, ofst=(-0.15, 0)))
    s.drawn.add("U103")
    s.tag((13.7, y + 0.2), "D")
    s.wire((13.7, y + 0.2), (14.2, y + 0.2))
    s.wire((14.2, y + 1.0), (13.9, y + 1.0), (13.9, y + 1.7), (16.0, y + 1.7), (16.0, y + 0.6))
    s.wire((15.75, y + 0.6), (16.6, y + 0.6))
    s.dot((16.0, y + 0.6))
    s.tag((16.6, y + 0.6), "GPIO 25 + k\n(one of four)", "right")
    # One pull line of two.
    s.tag((14.2, y - 1.7), "GPIO6, 7")
    s.part(elm.Resistor, "R101", (14.2, y - 1.7), (16.6, y - 1.7))
    s.drawn.add("R102")
    s.wire((16.6, y - 1.7), (18.8, y - 1.7))
    s.dot((17.6, y - 1.7))
    s.part(elm.Schottky, "D101", (17.6, y - 1.7), (17.6, y - 0.1))
    s.rail((17.6, y - 0.1))
    s.part(elm.Schottky, "D102", (17.6, y - 3.3), (17.6, y - 1.7))
    s.ground((17.6, y - 3.3))
    s.drawn.update(("D103", "D104"))
    s.tag((18.8, y - 1.7), "PU1 (PU2: R102, D103, D104)", "right")


def _coils(s: Sheet) -> None:
    y = 3.2
    s.note((-1.4, y + 2.0), "Coils: off unless driven", 12)
    for x, pin, transistor, foot, coils in ((0.6, "GPIO8", "Q1", "R109", "K1 × 4"), (6.4, "GPIO9", "Q2", "R110", "K2, K3")):
        s.tag((x, y - 0.9), pin)
        s.wire((x, y - 0.9), (x + 1.6, y - 0.9))
        s.part(elm.Resistor, foot, (x + 0.5, y - 0.9), (x + 0.5, y - 2.6), loc="right")
        s.ground((x + 0.5, y - 2.6))
        s.dot((x + 0.5, y - 0.9))
        s.d.add(elm.NFet(bulk=False).at((x + 1.6, y - 0.9)).anchor("gate").theta(0).label(transistor, "right"))
        s.drawn.add(transistor)
        fet = s.d.elements[-1]
        drain, source = fet.absanchors["drain"], fet.absanchors["source"]
        s.wire(tuple(source), (source[0], y - 2.6))
        s.ground((source[0], y - 2.6))
        top = y + 1.4
        s.wire(tuple(drain), (drain[0], y - 0.2))
        s.part(elm.Inductor, "K1" if pin == "GPIO8" else "K2", (drain[0], y - 0.2), (drain[0], top), loc="left", text="× 4" if pin == "GPIO8" else "and K3")
        s.rail((drain[0], top), "5 V")
        s.wire((drain[0], y - 0.2), (drain[0] + 1.2, y - 0.2))
        s.part(elm.Zener, "DZ1", (drain[0] + 1.2, y + 0.6), (drain[0] + 1.2, y - 0.2), text="at each")
        s.part(elm.Diode, "DZ1", (drain[0] + 1.2, y + 0.6), (drain[0] + 1.2, top), text="")
        s.wire((drain[0] + 1.2, top), (drain[0], top))
    s.drawn.add("K3")


def _front(s: Sheet) -> None:
    y = 3.2
    s.note((12.2, y + 2.0), "Lamps, sounder, key", 12)
    s.tag((14, y + 1), "GPIO14–17")
    s.part(elm.Resistor, "R111–R114", (14, y + 1), (16.6, y + 1), ofst=0.15)
    s.part(elm.LED, "LED1–LED4", (16.6, y + 1), (18.6, y + 1), ofst=0.35)
    s.ground((18.6, y + 1))
    for n in (2, 3):
        s.drawn.update((f"R11{n}", f"LED{n}"))
    s.tag((14, y - 1.1), "GPIO18")
    s.part(elm.Resistor, "R115", (14, y - 1.1), (16, y - 1.1))
    s.d.add(elm.BjtNpn().at((16, y - 1.1)).anchor("base").label("Q3", "right"))
    s.drawn.add("Q3")
    bjt = s.d.elements[-1]
    collector, emitter = bjt.absanchors["collector"], bjt.absanchors["emitter"]
    s.wire(tuple(emitter), (emitter[0], y - 2.2))
    s.ground((emitter[0], y - 2.2))
    s.wire(tuple(collector), (collector[0], y - 0.35), (18.6, y - 0.35))
    s.part(elm.Resistor, "R116", (18.6, y - 0.35), (20.8, y - 0.35), loc="top")
    s.wire((18.6, y - 0.35), (18.6, y - 1.4), (19.2, y - 1.4))
    s.box((19.2, y - 1.1), (1, 0.6), "LS1", 0.15)
    s.drawn.add("LS1")
    s.wire((20.2, y - 1.4), (20.8, y - 1.4), (20.8, y - 0.35))
    s.dot((18.6, y - 0.35), (20.8, y - 0.35))
    s.wire((20.8, y - 0.35), (20.8, y + 0.1))
    s.rail((20.8, y + 0.1), "5 V")
    s.tag((14, y - 3.3), "GPIO19")
    s.part(elm.Resistor, "R117", (14, y - 3.3), (16.6, y - 3.3))
    s.d.add(elm.Button().at((16.6, y - 3.3)).to((18.6, y - 3.3)).label("S1", ofst=0.2))
    s.drawn.add("S1")
    s.ground((18.6, y - 3.3))
