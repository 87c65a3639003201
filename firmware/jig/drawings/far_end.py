"""Draws what goes to the far end, and what is kept with the jig: tail, key, check pieces."""

import schemdraw.elements as elm

from sheet import Sheet


def draw() -> Sheet:
    s = Sheet("far end")
    s.note((-1.4, 10.4), "runproof: tail, key and check pieces. Not built yet. Values: bom.csv.", 12)
    _tail(s)
    _front_face(s)
    _reverse_face(s)
    _pieces(s)
    return s


def _tail(s: Sheet) -> None:
    s.note((-1.4, 9.65), "Tail X1: clips, 300 mm, keyed socket", 12)
    s.drawn.update(("X1", "X2", "B1"))
    for k, name in enumerate(("1 data+", "2 data−", "3 common", "4 supply")):
        y = 8.0 - 0.8 * k
        s.d.add(elm.Line(arrow="<-").at((0.9, y)).to((3.6, y)))
        s.note((0.7, y + 0.2), name, align="right")
        s.d.add(elm.Dot(open=True).at((3.6, y)))
        s.note((3.85, y + 0.2), str(k + 1))
    s.box((3.2, 8.4), (1.2, 3.2), "")
    s.note((3.8, 5.1), "socket", align="center")


def _front_face(s: Sheet) -> None:
    s.note((6.4, 9.65), "Key X2, front face: the end plug, a ring", 12)
    left, right, top, bottom = 7.6, 11.2, 7.9, 5.3
    s.part(elm.Resistor, "R201", (left, top), (right, top))
    s.part(elm.Resistor, "R202", (right, top), (right, bottom))
    s.part(elm.Resistor, "R203", (right, bottom), (left, bottom))
    s.part(elm.Resistor, "R204", (left, bottom), (left, top), loc="left")
    for at, text in (((left, top), "1"), ((right, top), "3"), ((right, bottom), "4"), ((left, bottom), "2")):
        s.d.add(elm.Dot(open=True).at(at))
        dx, dy = (-0.25 if at[0] == left else 0.25), (0.55 if at[1] == top else -0.1)
        s.note((at[0] + dx, at[1] + dy), text, 12, "center")


def _reverse_face(s: Sheet) -> None:
    s.note((14.2, 9.65), "Key X2, reverse face: lights", 12)
    for n, (resistor, one, other, posts) in enumerate((("R205", "LED201", "LED202", (1, 2)), ("R206", "LED203", "LED204", (3, 4)))):
        y = 7.8 - 2.7 * n
        s.tag((15.0, y), str(posts[0]))
        s.part(elm.Resistor, resistor, (15.0, y), (17.2, y))
        s.wire((17.2, y), (17.2, y + 0.5))
        s.wire((17.2, y), (17.2, y - 0.5))
        s.d.add(elm.LED().at((17.2, y + 0.5)).to((19.4, y + 0.5)))
        s.d.add(elm.LED().at((19.4, y - 0.5)).to((17.2, y - 0.5)))
        s.note((19.6, y + 0.95), one)
        s.note((19.6, y - 0.45), other)
        s.drawn.update((one, other))
        s.wire((19.4, y + 0.5), (19.4, y - 0.5))
        s.wire((19.4, y), (20.6, y))
        s.dot((17.2, y), (19.4, y))
        s.tag((20.6, y), str(posts[1]), "right")


def _pieces(s: Sheet) -> None:
    s.note((-1.4, 3.8), "Check pieces B1: 3 m of four cores each; left the jig's clips, right the tail's", 12)
    for n, name in enumerate(("good", "crossed, and 1 Ω more", "open")):
        x = 0.2 + 7.6 * n
        s.note((x, 3.0), name)
        ys = [2.0 - 0.8 * k for k in range(4)]
        for k, y in enumerate(ys):
            s.tag((x, y), str(k + 1))
            to = {1: 3, 3: 1}.get(k, k) if n == 1 else k
            end = (x + 5.2, ys[to])
            if n == 1 and k == 1:
                s.wire((x, y), (x + 0.8, y), (x + 2.4, ys[to]))
                s.part(elm.Resistor, "R207", (x + 2.4, ys[to]), end, loc="bottom")
            elif n == 1 and k == 3:
                s.wire((x, y), (x + 0.8, y), (x + 2.4, ys[to]), end)
            elif n == 2 and k == 3:
                s.wire((x, y), (x + 2.2, y))
                s.wire((x + 3.0, y), end)
                s.note((x + 2.6, y + 0.2), "cut", align="center")
            else:
                s.wire((x, y), end)
            s.tag(end, str(to + 1), "right")
