#!/usr/bin/env python3
"""Records as Parquet, read by Apache Arrow: the same values as the store's own (Python's sqlite3), its CSV and its JSON Lines, with types.

    python3 check_parquet.py RUNPROOF_BINARY MANY_BINARY"""

import csv
import io
import json
import os
import sqlite3
import subprocess
import sys
import tempfile
from datetime import datetime, timezone
from typing import Dict, List

import pyarrow.parquet

# More than one row group.
RECORDS, REAL_EACH = 10_500, 1_500
MANY = ("note", "photo", "identity")
ALWAYS = ("id", "kind", "zone", "said", "jig", "firmware", "program", "capture_sha256")
SAID = [["--note", "a, \"b\"\nc"], ["--note", "数据 − Ω 🚚"], ["--photo", "one.jpg", "--photo", "=1+1.jpg"], ["--job", "another"], ["--place", "' ; --"],
        ["--temperature", "21.30"], ["--equipment-installed", "2019"]]
TYPES = {"number": "int64", "taken_utc": "timestamp[ms, tz=UTC]", "simulated": "bool"}


def main() -> int:
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    binary, many = (os.path.abspath(path) for path in sys.argv[1:])
    wrong: List[str] = []
    with tempfile.TemporaryDirectory() as folder:
        def run(*words: str, data: str = "many") -> str:
            environment = dict(os.environ, XDG_DATA_HOME=os.path.join(folder, data))
            done = subprocess.run([binary, *words], capture_output=True, timeout=120, env=environment, cwd=folder)
            if done.returncode > 2:
                raise SystemExit(f"{' '.join(words)} failed:\n{done.stderr.decode()}")
            return done.stdout.decode()
        for words in (["check", "--simulate", "good-run"], ["live", "--simulate", "live-reversed"], ["zero", "--simulate", "tail-on-clips", "--yes"]):
            run(*words, data="real")
        path = os.path.join(folder, "many", "runproof", "records.sqlite3")
        os.makedirs(os.path.dirname(path))
        subprocess.run([many, path, str(RECORDS), str(REAL_EACH), "job 7", "0"], input=run("records", "export", "--as", "whole", data="real"),
                       text=True, check=True)
        for name in ("one.jpg", "=1+1.jpg"):
            open(os.path.join(folder, name), "w").close()
        for n, said in enumerate(SAID):
            run("records", "add", str(1 + 3 * n), *said)
        run("records", "void", "2", "--reason", "twice")
        run("zero", "--simulate", "tail-on-clips", "--yes")
        for chosen in ([], ["--verdict", "fail"], ["no such words"]):
            to = os.path.join(folder, f"{len(chosen)}{len(wrong)}{chosen[:1]}.parquet")
            told = run("records", "export", "--as", "parquet", "--to", to, *chosen)
            compare(wrong, pyarrow.parquet.ParquetFile(to), run("records", "export", "--as", "csv", *chosen),
                    run("records", "export", "--as", "json", *chosen), path, told)
    for line in wrong[:40]:
        print(line, file=sys.stderr)
    print(f"{RECORDS + 1} records, three exports: {len(wrong)} values differ")
    return 1 if wrong else 0


def compare(wrong: List[str], file: pyarrow.parquet.ParquetFile, text: str, lines: str, path: str, told: str) -> None:
    def same(what: str, *values: object) -> None:
        if any(value != values[0] for value in values):
            wrong.append(f"{what}: {values}")
    rows = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    objects = [json.loads(line) for line in lines.splitlines()]
    table = file.read()
    same("columns", table.column_names, next(csv.reader(io.StringIO(text, newline=""))))
    same("how many", table.num_rows, len(rows), len(objects), int(told.split()[0]))
    same("row groups", file.num_row_groups, -(-table.num_rows // 10_000))
    for field in table.schema:
        meant = TYPES.get(field.name) or ("list<element: string not null>" if field.name in MANY + ("found",) else "string")
        same(f"the type of {field.name}", str(field.type), meant)
        same(f"whether {field.name} may be missing", field.nullable, field.name not in ALWAYS + ("number", "simulated", "found"))
    store = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    kept = {row[0]: row[1:] for row in store.execute(
        "SELECT record.number, id, kind, taken_ms, zone, verdict, said, found, simulated, jig, firmware, program, sheet.name || ' ' || sheet.version, "
        "capture_sha256 FROM record LEFT JOIN sheet ON sheet.number = record.sheet")}
    said: Dict[int, Dict[str, List[str]]] = {}
    for number, key, value in store.execute("SELECT number, key, value FROM detail ORDER BY number, id"):
        said.setdefault(number, {}).setdefault(key, []).append(value)
    keys = table.column_names[14:]
    for one, row, line in zip(table.to_pylist(), rows, objects):
        number = one["number"]
        same(f"{number}", number, int(row["number"]), line["number"])
        taken = one["taken_utc"]
        taken_ms = None if taken is None else round(taken.astimezone(timezone.utc).timestamp() * 1000)
        found = " ".join(one["found"])
        mine = (one["id"], one["kind"], taken_ms, one["zone"], one["verdict"], one["said"], found, int(one["simulated"]), one["jig"], one["firmware"],
                one["program"], one["sheet"], one["capture_sha256"])
        same(f"{number} in the store", mine, kept[number])
        plain = ("id", "kind", "zone", "verdict", "said", "jig", "firmware", "program", "sheet", "capture_sha256")
        same(f"{number} in the CSV", [one[name] or "" for name in plain], [row[name] for name in plain])
        same(f"{number} found", found, row["found"], " ".join(line["found"]))
        same(f"{number} simulated", one["simulated"], row["simulated"] == "yes", line["simulated"])
        for name in ("id", "kind", "zone", "verdict", "said", "jig", "firmware", "program", "capture_sha256"):
            same(f"{number} {name} in JSON", one[name], line[name])
        same(f"{number} time", None if taken is None else taken_ms, milliseconds(row["taken_utc"]), milliseconds(line["taken"]))
        for key in keys:
            values = said.get(number, {}).get(key)
            meant = values if key in MANY or values is None else values[-1]
            same(f"{number} {key}", one[key], meant)
            same(f"{number} {key} in the CSV", "\n".join(values or []) if key in MANY else (values or [""])[-1], row[key])


def milliseconds(text: object) -> object:
    return round(datetime.fromisoformat(str(text).replace("Z", "+00:00")).timestamp() * 1000) if text else None


if __name__ == "__main__":
    sys.exit(main())
