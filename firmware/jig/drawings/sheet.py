"""What the sheets draw with: parts at places, named and valued as in bom.csv, and notes."""

import os
import sys

import schemdraw
import schemdraw.elements as elm

FOLDER = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(FOLDER, "../../../tests/jig"))

import parts

schemdraw.use("svg")
schemdraw.svgconfig.text = "text"

SMALL = 10.5


class Sheet:
    """A drawing. Places are (x, y), y upwards."""

    def __init__(self, title: str):
        self.bom = parts.table()
        self.drawn: set = set()
        self.d = schemdraw.Drawing(show=False)
        self.d.config(unit=2, fontsize=SMALL, font="sans-serif", lw=1.2, margin=0.3, bgcolor="white")
        self.title = title

    def note(self, at, text, size=SMALL, align="left"):
        """Text from `at` on, downwards."""
        self.d.add(elm.Label().at(at).label(text, loc="center", halign=align, valign="top", fontsize=size))

    def named(self, names: str) -> str:
        """One or more parts, with the value of the first where it has one."""
        for name in names.replace("–", " ").split():
            self.drawn.add(name)
            if name not in self.bom:
                raise parts.PartsError(f"bom.csv has no {name}, which a drawing has: add it there or draw what is there")
        value = self.bom[names.split()[0].split("–")[0]]["value"]
        return f"{names}\n{value}" if value else names

    def part(self, kind, names, start, end, loc="top", text=None, ofst=0.1):
        label = self.named(names) + (f"\n{text}" if text else "")
        halign = {"right": "left", "left": "right"}.get(loc, "center")
        place = {"right": "bottom", "left": "top"}.get(loc, loc)
        vertical = start[0] == end[0]
        element = kind().at(start).to(end)
        if vertical:
            # A label to the right of what goes up or down.
            middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            self.d.add(element)
            lines = label.count("\n") + 1
            dx = 0.4 if loc != "left" else -0.45
            self.note((middle[0] + dx, middle[1] + 0.19 * lines), label, align="left" if dx > 0 else "right")
        else:
            self.d.add(element.label(label, loc=place, ofst=ofst, halign=halign if loc in ("left", "right") else "center"))
        return element

    def wire(self, *points):
        for a, b in zip(points, points[1:]):
            self.d.add(elm.Line().at(a).to(b))

    def dot(self, *points):
        for at in points:
            self.d.add(elm.Dot().at(at))

    def ground(self, at):
        self.d.add(elm.Ground().at(at))

    def rail(self, at, text="3.3 V"):
        self.d.add(elm.Vdd().at(at).label(text, fontsize=SMALL))

    def tag(self, at, text, to="left"):
        """An end of a wire that goes on elsewhere."""
        self.d.add(elm.Dot(open=True).at(at))
        dx = -0.3 if to == "left" else 0.2
        self.note((at[0] + dx, at[1] + 0.18 * (text.count("\n") + 1)), text, align="right" if to == "left" else "left")

    def box(self, corner, size, text, shift=0.35):
        x, y = corner
        w, h = size
        self.wire((x, y), (x + w, y), (x + w, y - h), (x, y - h), (x, y))
        self.note((x + w / 2, y - shift), text, align="center")

    def svg(self) -> str:
        return self.d.get_imagedata("svg").decode("utf-8")
