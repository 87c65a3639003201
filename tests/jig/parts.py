"""Reads firmware/jig/bom.csv: the one place where a part's value stands as text."""

import csv
import os
import re
from typing import Dict

FOLDER = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../firmware/jig")
COLUMNS = ["part", "quantity", "what", "value", "tolerance", "rating", "why", "from"]
SUFFIXES = {"": 1.0, "k": 1e3, "M": 1e6, "m": 1e-3, "µ": 1e-6, "n": 1e-9, "p": 1e-12}


class PartsError(Exception):
    """What is wrong in the list of parts, and where."""


def rows() -> list:
    with open(os.path.join(FOLDER, "bom.csv"), encoding="utf-8", newline="") as f:
        read = csv.DictReader(f)
        if read.fieldnames != COLUMNS:
            raise PartsError(f"bom.csv: its columns are {read.fieldnames}, should be {COLUMNS}")
        return list(read)


def table() -> Dict[str, Dict[str, str]]:
    """Its rows by the name of each part."""
    found: Dict[str, Dict[str, str]] = {}
    for row in rows():
        for name in row["part"].split():
            if name in found:
                raise PartsError(f"bom.csv: {name} stands in it twice; give one of the two another name")
            found[name] = row
    return found


def value(row: Dict[str, str]) -> float:
    """In ohms or farads, as the unit is."""
    words = row["value"].split()
    if len(words) != 2 or words[1][-1] not in "ΩF" or words[1][:-1] not in SUFFIXES:
        raise PartsError(f"bom.csv: the value {row['value']!r} of {row['part']} is no number with a unit, such as 4.7 kΩ")
    return float(words[0]) * SUFFIXES[words[1][:-1]]


def watts(row: Dict[str, str]) -> float:
    """What it must bear, of what its rating says."""
    found = re.search(r"≥ ([\d.]+) W", row["rating"])
    if found is None:
        raise PartsError(f"bom.csv: the rating {row['rating']!r} of {row['part']} says no watts, such as ≥ 3 W")
    return float(found.group(1))
