"""Reads the jig's front end from firmware/jig/front-end.cir, and takes its sub-circuits apart.

ngspice could do that itself; done here, nodes keep names that tests can ask for, and clamps are
left out without a trace. check_protection.py holds the two readings against each other.
"""

import os
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Dict, List, Mapping, Sequence, Tuple

FILE = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../firmware/jig/front-end.cir")

# From here on a resistor is an open contact.
OPEN_OHM = 1e18


class FrontEndError(Exception):
    """What is wrong in the file, and where."""


@dataclass(frozen=True)
class Part:
    """Or several resistors in series, where nothing else begins."""

    name: str
    ends: Tuple[str, str]
    values: Tuple[str, ...]  # as written: numbers or {parameters}


@dataclass(frozen=True)
class Block:
    """The linear part of a sub-circuit, clamps left out."""

    ports: Tuple[str, ...]
    parameters: Mapping[str, float]
    parts: Tuple[Part, ...]

    def value(self, part: Part, changed: Mapping[str, float]) -> float:
        """With these parameters in place of what they are unless told."""
        return sum(changed.get(v[1:-1], self.parameters.get(v[1:-1], 0.0)) if v[0] == "{" else number(v) for v in part.values)


def number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise FrontEndError(f"{FILE}: {text!r} is no plain number; write it without a suffix, such as 4.7e3") from None


@lru_cache(maxsize=1)
def blocks() -> Dict[str, Block]:
    """The file's sub-circuits by name."""
    with open(FILE, encoding="ascii") as f:
        return parse(f.read())


def parse(text: str) -> Dict[str, Block]:
    found: Dict[str, Block] = {}
    name, ports, parameters, parts = "", (), {}, []
    for line in re.sub(r"\n\+", " ", text).splitlines():
        words = line.split()
        if not words or line[0] == "*" or words[0] == ".model":
            continue
        if words[0] == ".subckt":
            told = line.partition("params:")
            name, *ports = told[0].split()[1:]
            pairs = (one.split("=") for one in told[2].split())
            parameters, parts = {key: number(value) for key, value in pairs}, []
        elif words[0] == ".ends":
            found[name] = Block(tuple(ports), parameters, tuple(_in_series(parts, ports)))
        elif line[0] in "BDX" or line.startswith("Rclamp"):
            continue
        elif line[0] in "RCV" and len(words) == 4:
            _known(line, words[3], parameters)
            parts.append(Part(words[0], (words[1], words[2]), (words[3],)))
        else:
            raise FrontEndError(f"{FILE}: {line!r} is none of the kinds of lines that are read here")
    return found


def _known(line: str, value: str, parameters: Mapping[str, float]) -> None:
    if value.startswith("{") and value[1:-1] not in parameters:
        raise FrontEndError(f"{FILE}: {line!r} has a parameter that its .subckt does not name")


def _in_series(parts: List[Part], ports: Sequence[str]) -> List[Part]:
    """The same with two resistors made one wherever only they meet: fewer nodes to solve."""
    parts = list(parts)
    while True:
        at: Dict[str, List[Part]] = {}
        for part in parts:
            for end in part.ends:
                at.setdefault(end, []).append(part)
        meet = next((end for end, here in at.items() if end != "0" and end not in ports and len(here) == 2
                     and all(part.name[0] == "R" for part in here)), None)
        if meet is None:
            return parts
        first, second = at[meet]
        ends = [end for part in (first, second) for end in part.ends if end != meet]
        parts[parts.index(first)] = Part(f"{first.name}_{second.name}", (ends[0], ends[1]), first.values + second.values)
        parts.remove(second)


def elements(block: str, nodes: Mapping[str, str], changed: Mapping[str, float], tag: str) -> List[str]:
    """A sub-circuit as element lines, clamps left out. `nodes` gives names to ports; `tag` ends those of its own nodes."""
    it = blocks()[block]
    strangers = set(changed) - set(it.parameters) or set(it.ports) ^ set(nodes)
    if strangers:
        raise FrontEndError(f"{FILE}: .subckt {block} has no {sorted(strangers)}, or has it and jig_netlist.py does not name it")
    out: List[str] = []
    for part in it.parts:
        value = it.value(part, changed)
        if value >= OPEN_OHM or part.name[0] == "C" and value == 0.0:
            continue
        a, b = (nodes.get(end, end if end == "0" else f"{end}_{tag}") for end in part.ends)
        out.append(f"{part.name}_{tag} {a} {b} {value!r}")
    return out
