"""Judges the powered runs that ngspice read, and compares with what the program reads of the same scenes.

    python3 check_live_judged.py RUNPROOF CAPTURES

CAPTURES is where `check_live.py --captures` wrote them, scene NAME of the jig with the seed that is its place in
the alphabet. The verdict and all findings that are more than remarks must be the same, and numbers must agree
within what is stated of both. Exit status 1 if not, or if there is too little to compare.
"""

import glob
import json
import os
import subprocess
import sys
from typing import Dict, Optional, Tuple

SCENES_MIN, LOADED_MIN, NUMBERS_MIN = 20, 10, 100
NUMBERS = [("supply", "rms_v"), ("supply", "direct_v"), ("supply", "hertz"), ("supply", "loaded_rms_v"),
           ("pair", "bias_v"), ("pair", "loaded_bias_v"), ("supply_load", "loaded_v"), ("supply_load", "source_ohm")]
# Of a pair on which somebody sends the mean is of what was sent just then.
CHANGES = {"live-traffic": {"bias_v", "loaded_bias_v"}}


def told(program: str, *arguments: str) -> Dict:
    done = subprocess.run([program, *arguments, "--json"], capture_output=True, text=True, timeout=60)
    if done.returncode > 2:
        raise SystemExit(f"{' '.join(arguments)} failed:\n{done.stderr}")
    return json.loads(done.stdout)


def grave(result: Dict) -> Tuple[str, list]:
    return result["verdict"], sorted(one["kind"] for one in result["findings"] if one["severity"] != "note")


def number(result: Dict, of: str, name: str) -> Optional[Dict]:
    return (result[of] or {}).get(name)


def without_load(path: str) -> str:
    """The program does not put the supply load on every run that would bear it: such captures, less that phase."""
    kept = path + ".kept"
    with open(path, encoding="utf-8") as whole, open(kept, "w", encoding="utf-8") as f:
        f.writelines(line for line in whole if '"supply-load"' not in line)
    return kept


def main() -> int:
    program, folder = sys.argv[1:]
    paths = sorted(glob.glob(os.path.join(folder, "*.jsonl")))
    wrong, compared, loaded = 0, 0, 0
    for seed, path in enumerate(paths, 1):
        name = os.path.basename(path)[: -len(".jsonl")]
        by_program = told(program, "live", "--simulate", name, "--seed", str(seed), "--zero", "none")
        by_ngspice = told(program, "judge", path if by_program["supply_load"] else without_load(path))
        loaded += bool(by_program["supply_load"])
        problems = []
        if grave(by_ngspice) != grave(by_program):
            problems.append(f"{grave(by_ngspice)} and {grave(by_program)}")
        for of, key in NUMBERS:
            a, b = number(by_ngspice, of, key), number(by_program, of, key)
            if (a is None) != (b is None):
                problems.append(f"{of} {key}: {a} and {b}")
            elif a is not None and key not in CHANGES.get(name, set()):
                compared += 1
                if abs(a["value"] - b["value"]) > a["u"] + b["u"]:
                    problems.append(f"{of} {key}: {a} and {b}")
        print(f"{'FAIL' if problems else 'ok  '} {name:24} {by_ngspice['verdict']}", *problems, sep="\n     ".join(["", ""]) if problems else " ")
        wrong += bool(problems)
    print(f"{len(paths)} scenes, {loaded} with the supply loaded, {compared} numbers compared, {wrong} scenes wrong")
    return 1 if wrong or len(paths) < SCENES_MIN or loaded < LOADED_MIN or compared < NUMBERS_MIN else 0


if __name__ == "__main__":
    sys.exit(main())
