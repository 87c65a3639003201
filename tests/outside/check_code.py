"""Reads the codes of results with other people's Reed-Solomon, by the format's description alone.

    python3 check_code.py PROGRAM

Needs the packages in requirements.txt. Of built-in scenes of each kind the program's code must be a codeword of that
package, with the same check symbols; wrong symbols that are put in must be found by both in the same place; and the
fields, unpacked by the tables of read-aloud-format.md, must say what the program's own JSON says. Codes that the package
makes of random fields must be ones to the program. Exit status 1 if anything differs.
"""

import json
import math
import random
import re
import subprocess
import sys
from pathlib import Path
from typing import Dict, List, Tuple

from reedsolo import RSCodec, ReedSolomonError

FORMAT = Path(__file__).parents[2] / "host/interpret/read-aloud-format.md"
SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CHECKS = 3
LENGTHS = {0: 24, 1: 20, 2: 20}
KINDS = {0: "check", 1: "test to earth", 2: "live run"}
SHEETS = ["service-24vac", "acceptance-24vac", "service-12vdc", "two-wire-bus", "made-up-lead"]
SCENES = [
    ["check", "good-run"], ["check", "crossed-supply"], ["check", "corroded-splice"], ["check", "open-supply"],
    ["check", "damp-splice"], ["check", "rolled-splice"], ["check", "no-plug"], ["check", "powered-run"],
    ["check", "two-wire", "--sheet", "two-wire-bus"], ["check", "long-thin-run", "--sheet", "acceptance-24vac"],
    ["check", "damp-conduit", "--to-earth"], ["check", "shield-bonded-far", "--to-earth", "--shield", "landed"],
    ["live", "live-good"], ["live", "live-reversed"], ["live", "live-dc12"], ["live", "live-ghost"],
]
# Roots from the first power on, over the field of x^5 + x^2 + 1.
CODEC = RSCodec(nsym=CHECKS, nsize=31, fcr=1, prim=0b100101, generator=2, c_exp=5)

Field = Tuple[str, int]


def described() -> Tuple[Dict[str, List[Field]], Dict[str, Dict[int, str]]]:
    """The fields of each kind and the tables of numbers, from the format's description."""
    fields: Dict[str, List[Field]] = {}
    numbers: Dict[str, Dict[int, str]] = {}
    kind = ""
    for line in FORMAT.read_text(encoding="utf-8").splitlines():
        if heading := re.match(r"### Fields of a (.*), \d+ symbols", line):
            kind = heading[1]
            fields[kind] = []
        elif line.startswith("## "):
            kind = ""
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) != 3 or not cells[1].isdigit():
            continue
        if kind:
            fields[kind].append((cells[0], int(cells[1])))
        else:
            each = re.findall(r"(\d+) ((?:`[^`]+` ?)+)", cells[2])
            numbers[cells[0]] = {int(n): names.replace("`", "").strip() for n, names in each}
    return fields, numbers


FIELDS, NUMBERS = described()


def symbols(code: str) -> List[int]:
    return [SYMBOLS.index(letter) for letter in code.replace("-", "")]


def text(code: List[int]) -> str:
    return "".join(SYMBOLS[symbol] for symbol in code)


def unpacked(code: List[int]) -> List[Tuple[str, int]]:
    """Each field's name and number, in their order."""
    number = 0
    for place, symbol in enumerate(code[1:-CHECKS], start=1):
        number = number * 32 + (symbol ^ (13 * place % 32))
    values = []
    for name, radix in FIELDS[KINDS[code[0]]]:
        values.append((name, number % radix))
        number //= radix
    if number:
        raise ValueError("something is left behind the last field")
    return values


def run(program: str, *arguments: str) -> subprocess.CompletedProcess:
    return subprocess.run([program, *arguments], capture_output=True, text=True, timeout=60)


def ohm(number: int) -> str:
    """By scale D, as bounds."""
    step = 10 ** (1 / 16)
    if number == 0:
        return "-inf 0.1036"
    if number == 62:
        return f"{0.1 * step ** 59.5} inf"
    middle = 0.1 * step ** (number - 1)
    return f"{middle / step ** 0.501} {middle * step ** 0.501}"


def within(number: int, value: float) -> bool:
    """Of a field that may be unknown."""
    if number == 0 or value is None:
        return number == 0 and value is None
    least, most = map(float, ohm(number - 1).split())
    return least <= value <= most


def differs(code: List[int], result: dict) -> List[str]:
    """In what the fields say something else than the result."""
    values = unpacked(code)
    first = dict(reversed(values))
    wrong = []

    def same(what: str, told: object, exact: object) -> None:
        if told != exact:
            wrong.append(f"{what}: {told!r}, not {exact!r}")

    live = code[0] == 2
    same("verdict", NUMBERS["verdict"][first["verdict"]], result["verdict"])
    same("sheet", SHEETS[first["limit sheet"]], result["sheet"]["name"])
    same("simulated", first["simulated"], 1)
    found = result["findings"]
    gravest = found[0] if found else None
    kinds, causes = ("live finding", "live cause") if live else ("finding", "cause")
    told = NUMBERS[kinds].get(first["finding"] - 1)
    same("finding", told, gravest and gravest["kind"])
    same("more", first["more findings"], int(len(found) > 1))
    if gravest:
        same("cause", NUMBERS[causes].get(first["its cause"] - 1), gravest["cause"])
        same("severity", NUMBERS["severity"][first["its severity"]], gravest["severity"])
        posts = [post for post in (1, 2, 3, 4) if first["its posts"] >> (post - 1) & 1]
        same("posts", posts, sorted(gravest["posts"]))
    rows = [values[at:at + 3] for at, (name, _) in enumerate(values) if name == "arrives at"]
    for conductor in result["conductors"] if code[0] == 0 else []:
        (_, arrives), (_, outcome), (_, resistance) = rows[conductor["post"] - 1]
        same("arrives at", arrives or None, conductor["reaches"])
        same("outcome", NUMBERS["outcome"][outcome], f"{conductor['verdict']} {conductor['reason']}")
        if not within(resistance, conductor["resistance_ohm"]):
            wrong.append(f"resistance {resistance} of {conductor['resistance_ohm']}")
    if live and result["supply"]:
        same("supply", NUMBERS["supply"][first["supply"] - 1], result["supply"]["kind"])
        same("pair", NUMBERS["pair"][first["pair"] - 1], result["pair"]["sign"])
        bias, value = first["its bias"] - 1, result["pair"]["bias_v"]["value"]
        size = (bias + 1) // 2
        told_v = 0.02 * 10 ** ((size - 1) / 32) * (-1 if bias % 2 == 0 else 1)
        if not math.isclose(told_v, value, rel_tol=0.0371):
            wrong.append(f"bias {told_v} of {value}")
    return wrong


def located(program: str, code: List[int], chance: random.Random) -> List[str]:
    """Where a wrong symbol is put in, and one of the two does not say so."""
    at = chance.randrange(len(code))
    read = list(code)
    read[at] ^= chance.randrange(1, 32)
    try:
        _, mended, places = CODEC.decode(bytearray(read))
    except ReedSolomonError as error:
        return [f"{text(read)}: the package finds no single error: {error}"]
    wrong = []
    if list(mended) != code or list(places) != [at]:
        wrong.append(f"{text(read)}: the package finds {list(places)}, not {at}")
    told = " ".join(run(program, "decode", text(read)).stderr.split())
    expected = f"symbol {at + 1}, `{text(read)[at]}`, does not fit the others; `{text(code)[at]}` would"
    if expected not in told:
        wrong.append(f"{text(read)}: {told}")
    return wrong


def main() -> int:
    program = sys.argv[1]
    chance = random.Random(5)
    wrong: List[str] = []
    counts = {"codes": 0, "wrong symbols": 0, "random codes": 0}
    for command, scene, *more in SCENES:
        told = json.loads(run(program, command, "--simulate", scene, *more, "--json").stdout)
        code = symbols(told["code"])
        counts["codes"] += 1
        if len(code) != LENGTHS[code[0]] or not all(CODEC.check(bytearray(code))):
            wrong.append(f"{scene}: {told['code']} is no codeword")
        if list(CODEC.encode(bytearray(code[:-CHECKS]))) != code:
            wrong.append(f"{scene}: {told['code']} has other check symbols")
        wrong += [f"{scene}: {one}" for one in differs(code, told)]
        for _ in range(6):
            wrong += located(program, code, chance)
            counts["wrong symbols"] += 1
    for kind, length in LENGTHS.items():
        for _ in range(20):
            data = [kind] + [chance.randrange(32) for _ in range(length - CHECKS - 1)]
            code = list(CODEC.encode(bytearray(data)))
            ran = run(program, "decode", text(code))
            told = " ".join(ran.stderr.split())
            if ran.returncode > 2 and "all its symbols fit together" not in told:
                wrong.append(f"{text(code)}: {told}")
            # Whatever it says, it is said on a screen of 80 columns.
            wrong += [f"{text(code)}: too wide: {line}" for line in ran.stdout.splitlines() if len(line) > 80]
            wrong += located(program, code, chance)
            counts["random codes"] += 1
            counts["wrong symbols"] += 1
    print("\n".join(wrong), end="\n" if wrong else "")
    print(", ".join(f"{count} {what}" for what, count in counts.items()) + f": {len(wrong)} differences")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
