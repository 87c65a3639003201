#!/usr/bin/env python3
"""What the store keeps, read by other programs: Python's sqlite3, zlib, hashlib, csv and json.

    python3 check_records.py RUNPROOF_BINARY

Every field of every record must be the same by SQL, in the CSV (RFC 4180), in the JSON, and on the command line that said it; each capture
must unpack to the very file that `--save` wrote, and have the SHA-256 that is told of it."""

import csv
import hashlib
import io
import json
import os
import sqlite3
import subprocess
import sys
import tempfile
import uuid
import zlib
from datetime import datetime, timezone
from typing import Dict, List

SAID = ['plain', 'a, comma', 'a "quote"', 'two\nlines', ' =1+1', '<script>alert(1)</script>', '数据線 − Ω', 'שלום العربية 🚚', "'; DROP TABLE record; --"]
TESTS = [["check", "--simulate", "good-run"], ["check", "--simulate", "crossed-supply"], ["check", "--simulate", "corroded-splice", "--gauge", "18awg"],
         ["check", "--simulate", "nicked-to-conduit", "--to-earth", "--yes"], ["live", "--simulate", "live-reversed"],
         ["live", "--simulate", "live-no-supply"], ["check", "--simulate", "no-plug"], ["check", "--simulate", "staple-short"],
         ["live", "--simulate", "live-hum", "--at", "plate"]]
KEYS = ["operator", "job", "run-name", "place", "equipment-model", "equipment-serial", "equipment-installed", "symptom", "temperature"]


class Bench:
    def __init__(self, binary: str, folder: str) -> None:
        self.binary, self.folder = os.path.abspath(binary), folder
        self.wrong: List[str] = []
        self.held = 0

    def run(self, *words: str) -> str:
        environment = dict(os.environ, XDG_DATA_HOME=self.folder)
        done = subprocess.run([self.binary, *words], capture_output=True, timeout=120, env=environment)
        if done.returncode > 2:
            raise SystemExit(f"{' '.join(words)} failed:\n{done.stderr.decode()}")
        return done.stdout.decode()

    def same(self, what: str, *values: object) -> None:
        self.held += 1
        if any(value != values[0] for value in values):
            self.wrong.append(f"{what}: {values}")


def main() -> int:
    if len(sys.argv) != 2 or not os.access(sys.argv[1], os.X_OK):
        print(__doc__, file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(sys.argv[1], folder)
        check(bench)
    for line in bench.wrong:
        print(line, file=sys.stderr)
    print(f"{len(TESTS)} records: {bench.held} comparisons, {len(bench.wrong)} differ")
    return 1 if bench.wrong or bench.held < 30 * len(TESTS) else 0


def check(bench: Bench) -> None:
    files = []
    for n, (test, said) in enumerate(zip(TESTS, SAID), start=1):
        files.append(os.path.join(bench.folder, f"{n}.jsonl"))
        about = [word for key in KEYS for word in (f"--{key}", f"{said} {key}")]
        bench.run(*test, "--save", files[-1], *about, "--note", said, "--note", f"{said}, twice")
    bench.run("records", "void", "3", "--reason", SAID[2])
    bench.run("records", "add", "1", "--job", "another")

    text = bench.run("records", "export", "--as", "csv")
    rows = {int(row["number"]): row for row in csv.DictReader(io.StringIO(text, newline=""), strict=True)}
    bench.same("lines end by CR LF", text.endswith("\r\n"), True)
    told = [json.loads(line) for line in bench.run("records", "export", "--as", "json").splitlines()]
    store = sqlite3.connect(os.path.join(bench.folder, "runproof", "records.sqlite3"))
    store.row_factory = sqlite3.Row
    bench.same("integrity", store.execute("PRAGMA integrity_check").fetchone()[0], "ok")
    bench.same("write-ahead log", store.execute("PRAGMA journal_mode").fetchone()[0], "wal")
    bench.same("how many", len(rows), len(told), len(TESTS), store.execute("SELECT count(*) FROM record").fetchone()[0])
    for one in told:
        number = one["number"]
        kept = store.execute("SELECT record.*, capture, result, sheet.name, sheet.version, sheet.text FROM record JOIN measured USING (number) "
                             "JOIN sheet ON sheet.number = record.sheet WHERE record.number = ?", [number]).fetchone()
        compare(bench, store, one, rows[number], kept, files[number - 1], SAID[number - 1])


def compare(bench: Bench, store: sqlite3.Connection, one: Dict, row: Dict, kept: sqlite3.Row, file: str, said: str) -> None:
    n = one["number"]
    for key in ("id", "kind", "said", "zone", "jig", "firmware", "program", "capture_sha256"):
        bench.same(f"{n} {key}", one[key], row[key], kept[key])
    bench.same(f"{n} id is a UUIDv7", uuid.UUID(one["id"]).version, 7)
    bench.same(f"{n} verdict", one["verdict"], row["verdict"], kept["verdict"])
    bench.same(f"{n} found", " ".join(one["found"]), row["found"], kept["found"])
    bench.same(f"{n} simulated", one["simulated"], row["simulated"] == "yes", bool(kept["simulated"]))
    taken = datetime.fromtimestamp(kept["taken_ms"] / 1000, timezone.utc)
    bench.same(f"{n} taken", taken, *(datetime.fromisoformat(text.replace("Z", "+00:00")) for text in (one["taken"], row["taken_utc"])))
    sheet = one["sheet"]
    bench.same(f"{n} sheet", f"{sheet['name']} {sheet['version']}", row["sheet"], f"{kept['name']} {kept['version']}")
    bench.same(f"{n} sheet's text says its name", f'name = "{sheet["name"]}"' in zlib.decompress(kept["text"]).decode("utf-8"), True)
    capture = zlib.decompress(kept["capture"])
    with open(file, "rb") as saved:
        bench.same(f"{n} capture", capture, saved.read())
    bench.same(f"{n} SHA-256", hashlib.sha256(capture).hexdigest(), one["capture_sha256"])
    result = json.loads(zlib.decompress(kept["result"]))
    bench.same(f"{n} result's verdict", result["verdict"], one["verdict"])
    json.loads(kept["told"])
    details = store.execute("SELECT key, value FROM detail WHERE number = ? ORDER BY id", [n]).fetchall()
    bench.same(f"{n} details", [tuple(pair) for pair in details], [(detail["key"], detail["value"]) for detail in one["details"]])
    last = {key: value for key, value in details}
    for key in KEYS:
        meant = "another" if (n, key) == (1, "job") else f"{said} {key}".strip()
        bench.same(f"{n} {key}", meant, row[key], last[key])
    bench.same(f"{n} notes", "\n".join([said.strip(), f"{said}, twice".strip()]), row["note"])
    bench.same(f"{n} void", row["void"], SAID[2] if n == 3 else "")


if __name__ == "__main__":
    sys.exit(main())
