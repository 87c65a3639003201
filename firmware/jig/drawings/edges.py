"""Draws the edge catcher: two comparators of one post, and the thresholds that all share."""

import schemdraw.elements as elm

from sheet import Sheet


def draw() -> Sheet:
    s = Sheet("edge catcher")
    s.note((-1.4, 9.4), "runproof: the edge catcher, one post of four, k = 1 to 4. Not built yet. Values: bom.csv.", 12)
    s.part(elm.Resistor, "R126", (0.4, 7.6), (0.4, 5.6), loc="left")
    s.part(elm.Resistor, "R127", (0.4, 5.6), (0.4, 2.8), loc="left")
    s.part(elm.Resistor, "R128", (0.4, 2.8), (0.4, 0.8), loc="left")
    s.rail((0.4, 7.6))
    s.ground((0.4, 0.8))
    s.dot((0.4, 5.6), (0.4, 2.8))
    s.note((0.6, 6.1), "2.60 V, to all four")
    s.note((0.6, 2.75), "0.70 V, to all four")
    # The upper threshold on +, N on −; the lower threshold on −, N on +.
    outs = []
    for name, threshold, on in (("U104", 5.6, "in2"), ("U105", 2.8, "in1")):
        one = s.d.add(elm.Opamp(leads=False).right().at((5.2, threshold)).anchor(on).scale(0.8).label(name, "center", fontsize=9, ofst=(-0.15, 0)))
        s.drawn.add(name)
        s.wire((0.4, threshold), (5.2, threshold))
        sense = tuple(one.absanchors["in1" if on == "in2" else "in2"])
        s.wire((4.2, sense[1]), sense)
        s.wire((4.2, sense[1]), (4.2, 4.2))
        outs.append(tuple(one.absanchors["out"]))
    s.dot((4.2, 4.2))
    s.wire((3.2, 4.2), (4.2, 4.2))
    s.tag((3.2, 4.2), "N of post k")
    for out in outs:
        s.wire(out, (8.2, out[1]), (8.2, 4.2))
    s.dot((8.2, 4.2), (9.2, 4.2))
    s.wire((8.2, 4.2), (10.4, 4.2))
    s.part(elm.Resistor, "R122–R125", (9.2, 6.6), (9.2, 4.2))
    s.drawn.update(("R123", "R124"))
    s.rail((9.2, 6.6))
    s.tag((10.4, 4.2), "GPIO 19 + k\n(EDGEk): high\nwhile between", "right")
    s.note((8.4, 3.4), "open drains, joined")
    return s
