#!/usr/bin/env python3
"""Syncs stores with a real PostgreSQL, which is asked by plain SQL, as the stores are by Python's sqlite3.

    python3 check_sync.py RUNPROOF_BINARY MANY_BINARY [--records 5000] [--cuts 100]

Three stores of so many records each, a fifth of them alike in two, one store by a clock an hour late, are synced through connections that are cut after a random
number of bytes and by programs that are killed, two at once, until nothing is new: then every record must be everywhere, once, the same
to the last byte, with all that was said about it. Digests are computed here a second time. A voided record must stay void on all sides;
what somebody changed must be refused, and stay what it is where it was right; no password may be said anywhere."""

import argparse
import hashlib
import json
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
import zlib
from typing import Dict, List, Optional, Tuple
from urllib.parse import quote

from cutting import Way
from database import PASSWORD, USER, Database

SCENES = [["check", "--simulate", "good-run"], ["check", "--simulate", "crossed-supply", "--yes"], ["live", "--simulate", "live-reversed"],
          ["live", "--simulate", "live-hum"], ["zero", "--simulate", "tail-on-clips", "--yes"], ["check", "--simulate", "no-plug"]]
REAL_EACH, SHARED = 101, 5
RECORD = "id, kind, taken_ms, zone, verdict, said, found, simulated, jig, board, firmware, program, told"


class Bench:
    def __init__(self, binary: str, many: str, folder: str, database: Database) -> None:
        self.binary, self.many, self.folder, self.database = binary, many, folder, database
        self.way = Way(database.port)
        self.chance = random.Random(2026)
        self.wrong: List[str] = []
        self.held = self.kills = self.syncs = 0

    def same(self, what: str, found: object, meant: object) -> None:
        self.held += 1
        if found != meant:
            self.wrong.append(f"{what}: {str(found)[:300]}, not {str(meant)[:300]}")

    def store(self, name: str) -> str:
        return os.path.join(self.folder, name, "runproof", "records.sqlite3")

    def begin(self, name: str, words: List[str], clock: Optional[str] = None, **environment: str) -> subprocess.Popen:
        under = ["faketime", "-f", clock] if clock else []
        environment = dict(os.environ, XDG_DATA_HOME=os.path.join(self.folder, name), **environment)
        return subprocess.Popen([*under, self.binary, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment)

    def run(self, name: str, words: List[str], **how: str) -> Tuple[int, str, str]:
        begun = self.begin(name, words, **how)
        out, err = begun.communicate(timeout=120)
        self.same(f"{words[0]} says no password", any(part in out + err for part in (PASSWORD, quote(PASSWORD, safe=""))), False)
        return begun.returncode, out, err

    def words(self, port: int = 0, database: str = "", host: str = "localhost", password: str = PASSWORD, more: str = "") -> List[str]:
        root = f"?sslrootcert={quote(self.database.root)}"
        return ["sync", "--json", f"postgres://{USER}:{quote(password, safe='')}@{host}:{port or self.database.port}/{database or self.database.name}{more or root}"]

    def sync(self, name: str) -> dict:
        status, out, err = self.run(name, self.words())
        self.same(f"{name} is synced: {err}", status in (0, 5), True)
        return json.loads(out)


def main() -> int:
    arguments = argparse.ArgumentParser()
    arguments.add_argument("binary")
    arguments.add_argument("many")
    arguments.add_argument("--records", type=int, default=5000)
    arguments.add_argument("--cuts", type=int, default=100)
    told = arguments.parse_args()
    begun = time.time()
    folder, database = tempfile.mkdtemp(), Database()
    try:
        bench = Bench(os.path.abspath(told.binary), os.path.abspath(told.many), folder, database)
        count = written(bench, told.records)
        cut(bench, told.cuts, count)
        everywhere(bench, count)
        void(bench)
        changed(bench)
        refused(bench)
        later(bench)
    finally:
        database.close()
        shutil.rmtree(folder)
    for line in bench.wrong:
        print(line, file=sys.stderr)
    print(f"3 × {told.records} records, {bench.syncs} syncs of which {bench.way.cuts} were cut and {bench.kills} killed: "
          f"{bench.held} comparisons, {len(bench.wrong)} differ; {time.time() - begun:.0f} s")
    return 1 if bench.wrong or bench.way.cuts + bench.kills < told.cuts else 0


def written(bench: Bench, records: int) -> int:
    """Some were measured by the program; the others are like them."""
    for words in SCENES:
        bench.run("real", [*words, "--job", "1047"])
    status, whole, err = bench.run("real", ["records", "export", "--as", "whole"])
    bench.same(f"real records: {err}", (status, len(whole.splitlines())), (0, len(SCENES)))
    def more(name: str, count: int, off_s: int, job: str) -> None:
        os.makedirs(os.path.dirname(bench.store(name)), exist_ok=True)
        subprocess.run([bench.many, bench.store(name), str(count), str(REAL_EACH), job, str(off_s)], input=whole, text=True, check=True)
    # What two have, who will send it at once: it came to them by another way.
    common = records // SHARED
    more("near", common, 0, "job of two")
    shutil.copytree(os.path.join(bench.folder, "near"), os.path.join(bench.folder, "far"))
    more("near", records - common, 0, "job of near")
    more("far", records - common, 0, "job of far")
    more("late", records, -3600, "job of late")
    return 3 * records - common


def cut(bench: Bench, cuts: int, count: int) -> None:
    """One after the other and two at once, through a way that is cut, by programs that are killed."""
    names = ["near", "far", "late"]
    while bench.way.cuts + bench.kills < cuts:
        bench.way.bytes_left = int(10 ** bench.chance.uniform(2.5, 5.9))
        two = bench.chance.sample(names, 2)
        is_killed = bench.chance.random() < 0.25
        if is_killed:
            bench.way.bytes_left = 2_000_000
        begun = [bench.begin(name, bench.words(bench.way.port)) for name in two]
        if is_killed:
            time.sleep(bench.chance.uniform(0.01, 0.2))
            begun[0].send_signal(signal.SIGKILL)
        for one in begun:
            out, err = one.communicate(timeout=120)
            bench.syncs += 1
            bench.kills += one.returncode == -signal.SIGKILL
            bench.same(f"a sync that is cut: {one.returncode} {err}", one.returncode in (0, 6, -signal.SIGKILL), True)
            bench.same("no password is said", PASSWORD in out + err, False)
    rows = bench.database.ask("SELECT count(*) FROM runproof.record")[0][0]
    bench.same(f"something is left to do, {rows} were sent", 0 < rows < count, True)
    begun = time.time()
    for name in names + names:
        told = bench.sync(name)
        bench.syncs += 1
        bench.same(f"nothing of {name} is refused", told["refused"], [])
    print(f"{count - rows} records were left to send, and all that each lacked to receive: {time.time() - begun:.1f} s")
    for name in names:
        begun = time.time()
        told = bench.sync(name)
        print(f"{name}: nothing new in {time.time() - begun:.2f} s")
        counts = [told[key] for key in ("sent", "received", "details_sent", "details_received")]
        bench.same(f"{name} has nothing new", counts, [0, 0, 0, 0])


def digest(*fields: Optional[str]) -> bytes:
    """Each field as its length, a colon, itself, a comma."""
    texts = ("-," if one is None else f"{len(one.encode())}:{one}," for one in fields)
    return hashlib.sha256("".join(texts).encode()).digest()


def of_row(row: tuple, sheet: tuple, capture: bytes, result: bytes) -> bytes:
    texts = [None if one is None else str(one) for one in row]
    return digest(*texts, *sheet, zlib.decompress(capture).decode(), zlib.decompress(result).decode())


def in_store(path: str) -> Tuple[Dict, Dict]:
    store = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    sheets = {number: (name, version, zlib.decompress(text).decode())
              for number, name, version, text in store.execute("SELECT number, name, version, text FROM sheet")}
    records = {}
    for row in store.execute(f"SELECT {RECORD}, sheet, capture_sha256, capture, result, sha256 FROM record JOIN measured USING (number) "
                             "JOIN digest USING (number)"):
        *plain, sheet, sha256, capture, result, kept = row
        records[row[0]] = (of_row(tuple(plain), sheets.get(sheet, (None,) * 3), capture, result), kept, sha256, capture, result)
    details = {(record, one): (said_ms, key, value) for record, one, said_ms, key, value in
               store.execute("SELECT record.id, detail.id, said_ms, key, value FROM detail JOIN record USING (number)")}
    if store.execute("PRAGMA integrity_check").fetchone()[0] != "ok":
        raise SystemExit(f"{path} is damaged")
    return records, details


def on_server(database: Database) -> Tuple[Dict, Dict]:
    ms = "(extract(epoch FROM {}) * 1000)::bigint"
    columns = RECORD.replace("id,", "record.id::text,", 1).replace("taken_ms", ms.format("taken")).replace("simulated", "simulated::integer")
    rows = database.ask(f"SELECT {columns}, sheet.name, sheet.version, sheet.text, capture_sha256, capture, result, digest "
                        "FROM runproof.record LEFT JOIN runproof.sheet ON sheet.sha256 = record.sheet")
    records = {}
    for *plain, name, version, text, sha256, capture, result, kept in rows:
        records[plain[0]] = (of_row(tuple(plain), (name, version, text), capture, result), kept, sha256, capture, result)
    rows = database.ask(f"SELECT record::text, id::text, {ms.format('said')}, key, value, digest FROM runproof.detail")
    for _, one, said_ms, key, value, kept in rows[:2000]:
        if digest(one, str(said_ms), key, value) != kept:
            raise SystemExit(f"the digest of {one} is another one")
    return records, {(record, one): tuple(rest[:3]) for record, one, *rest in rows}


def everywhere(bench: Bench, count: int) -> None:
    records, details = on_server(bench.database)
    bench.same("records on the server", len(records), count)
    bench.same("what was said, on the server", len(details), 3 * count)
    bench.same("sheets, each once", bench.database.ask("SELECT count(*) = count(DISTINCT (name, version, text)) FROM runproof.sheet"), [(True,)])
    for one, kept, sha256, capture, _ in records.values():
        if one != kept or hashlib.sha256(zlib.decompress(capture)).hexdigest() != sha256:
            bench.wrong.append("a digest is not that of its record")
    for name in ("near", "far", "late"):
        mine, said = in_store(bench.store(name))
        bench.same(f"records of {name}", mine == records, True)
        bench.same(f"what was said, of {name}", said == details, True)


def void(bench: Bench) -> None:
    """Said by a clock an hour late and by one an hour early, of the same record, on two computers."""
    one = bench.database.ask("SELECT record::text FROM runproof.detail WHERE key = 'job' AND value = 'job of near' ORDER BY 1 LIMIT 1")[0][0]
    for name, clock, words in (("far", "-1h", ["void", one, "--reason", "another run"]), ("late", "+1h", ["add", one, "--note", "looked at again"]),
                               ("near", "-1h", ["add", one, "--job", "job of late clock"])):
        status, _, err = bench.run(name, ["records", *words], clock=clock)
        bench.same(f"{words}: {err}", status, 0)
    counts = [0, 0]
    for name in ("near", "far", "late", "near", "far"):
        told = bench.sync(name)
        counts = [counts[0] + told["details_sent"], counts[1] + told["details_received"]]
    bench.same("what was said later goes everywhere", counts, [3, 6])
    for name in ("near", "far", "late"):
        rows = json.loads(bench.run(name, ["records", "show", one, "--json"])[1])
        said = sorted((detail["key"], detail["value"]) for detail in rows["details"] if detail["key"] in ("void", "job"))
        bench.same(f"void at {name}", said, [("job", "job of late clock"), ("job", "job of near"), ("void", "another run")])
        job = [json.loads(line) for line in bench.run(name, ["records", "export", "--as", "json", "--not-void", one])[1].splitlines()]
        bench.same(f"void at {name} is void in a list", job, [])


def changed(bench: Bench) -> None:
    """By somebody who may do all on the server; and the guard that others meet. In a database of its own, of few records."""
    database = bench.database
    database.ask("CREATE DATABASE few", database="postgres")
    database.name = "few"
    status, whole, err = bench.run("real", ["records", "export", "--as", "whole"])
    bench.same(f"real records: {err}", status, 0)
    os.makedirs(os.path.dirname(bench.store("few")))
    subprocess.run([bench.many, bench.store("few"), "400", "7", "job of few", "0"], input=whole, text=True, check=True)
    bench.same("few are sent", bench.sync("few")["sent"], 400)
    for table in ("record", "detail", "sheet"):
        try:
            database.ask(f"DELETE FROM runproof.{table}")
            bench.wrong.append(f"{table} could be deleted")
        except Exception as why:
            bench.same("the server keeps records", "never changed or deleted" in str(why), True)
    real = "program <> 'runproof 0.0.9'"
    picked = database.ask(f"SELECT id::text FROM runproof.record WHERE {real} AND verdict = 'fail' AND kind = 'check' ORDER BY id LIMIT 3")
    lie, otherwise, newer = (row[0] for row in picked)
    with_guard = "ALTER TABLE runproof.record {} TRIGGER stays; ALTER TABLE runproof.detail {} TRIGGER stays"
    database.ask(with_guard.format("DISABLE", "DISABLE"))
    # Its digest stays; then one by whom the digest was put right too; then one of a kind that there is none of yet.
    database.ask("UPDATE runproof.record SET verdict = 'pass', said = 'all is well' WHERE id = %s", lie)
    records, _ = on_server(database)
    row = database.ask("SELECT id, kind, (extract(epoch FROM taken) * 1000)::bigint, zone, said, found, simulated::integer, jig, board, firmware, program, "
                       "told, sheet.name, sheet.version, sheet.text, capture, result FROM runproof.record JOIN runproof.sheet "
                       "ON sheet.sha256 = record.sheet WHERE id = %s", otherwise)[0]
    right = of_row((*row[:4], "pass", *row[4:12]), row[12:15], row[15], row[16])
    bench.same("the digest of what was changed is another one", right == records[otherwise][1], False)
    database.ask("UPDATE runproof.record SET verdict = 'pass', digest = %s WHERE id = %s", right, otherwise)
    database.ask("UPDATE runproof.record SET kind = 'by-magic' WHERE id = %s", newer)
    database.ask("UPDATE runproof.detail SET value = 'another' WHERE record = %s AND key = 'job'", picked[0][0])
    database.ask(with_guard.format("ENABLE", "ENABLE"))
    told = bench.sync("fresh")
    why = {one["record"]: one["kind"] for one in told["refused"] if one["detail"] is None}
    bench.same("what was changed is refused", why, {lie: "changed", otherwise: "says-otherwise", newer: "later"})
    bench.same("all else is taken", told["received"], len(records) - 3)
    bench.same("what was said and changed is refused", [one["kind"] for one in told["refused"] if one["detail"]], ["changed"])
    before = in_store(bench.store("few"))
    told = bench.sync("few")
    bench.same("both have it, unlike", [(one["record"], one["kind"]) for one in told["refused"]], [(otherwise, "unlike")])
    bench.same("and stays as it was measured", in_store(bench.store("few")) == before, True)
    zero_byte = sqlite3.connect(bench.store("few"))
    zero_byte.execute("INSERT INTO detail (number, id, said_ms, key, value) VALUES (1, '01a21ac9-4c66-7750-90f6-1e2d5c586700', 0, 'note', ?)", ["a\0b"])
    zero_byte.commit()
    told = bench.sync("few")
    bench.same("a text that the server cannot keep stays here alone", [one["kind"] for one in told["refused"]], ["unlike", "zero-byte"])


def refused(bench: Bench) -> None:
    """No TLS, another's certificate, another name, a wrong password: nothing is sent, and no password is said."""
    root = f"?sslrootcert={quote(bench.database.root)}"
    other = f"?sslrootcert={quote(os.path.join(bench.database.folder, 'other.pem'))}"
    cases = [(bench.words(host="127.0.0.1", more=root), "not trusted"), (bench.words(more=other), "not trusted"),
             (bench.words(more="?sslmode=prefer"), "not trusted"), (bench.words(password=PASSWORD + "x", more=root), "does not let us in"),
             (bench.words(database="nowhere", more=root), "does not let us in"), (bench.words(port=1, more=root), "cannot be reached")]
    for words, why in cases:
        status, out, err = bench.run("few", words)
        bench.same(f"{why}: {status} {err}", (status, out, why in " ".join(err.split())), (6, "", True))
    for words, environment in ((["sync", "--json"], {"RUNPROOF_DATABASE": bench.words()[2]}),
                               (["sync", f"postgres://{USER}@localhost:{bench.database.port}/{bench.database.name}{root}"], {"PGPASSWORD": PASSWORD}),
                               (["sync", f"postgres://{USER}@{quote(bench.database.data, safe='')}:{bench.database.port}/{bench.database.name}"], {"PGPASSWORD": PASSWORD})):
        status, _, err = bench.run("few", words, **environment)
        bench.same(f"{words}, by the environment: {err}", status in (0, 5), True)
    with open(os.path.join(bench.database.data, "log"), encoding="utf-8", errors="replace") as log:
        bench.same("the server's log has no password", PASSWORD in log.read(), False)


def later(bench: Bench) -> None:
    """A later schema is left alone; a user without rights is told; a database without TLS, and one in another encoding, are refused."""
    database = bench.database
    database.ask("CREATE DATABASE latin ENCODING 'LATIN1' LOCALE 'C' TEMPLATE template0", database="postgres")
    status, _, err = bench.run("few", bench.words(database="latin"))
    bench.same(f"another encoding: {err}", (status, "UTF8" in err), (5, True))
    database.ask("CREATE ROLE reader LOGIN PASSWORD 'r'")
    address = f"postgres://reader:r@localhost:{database.port}/{database.name}?sslrootcert={quote(database.root)}"
    status, _, err = bench.run("fresh", ["sync", address])
    bench.same(f"no rights: {err}", (status, "does not allow" in err), (6, True))
    database.ask("INSERT INTO runproof.version (number) VALUES (1000)")
    before = database.ask("SELECT count(*) FROM runproof.record")
    status, _, err = bench.run("real", bench.words())
    bench.same(f"a later schema: {err}", (status, "later version" in " ".join(err.split())), (5, True))
    bench.same("and is left alone", database.ask("SELECT count(*) FROM runproof.record"), before)
    database.ask("ALTER SYSTEM SET ssl = off")
    database.restart()
    status, _, err = bench.run("few", bench.words())
    bench.same(f"no TLS: {err}", (status, "offers no TLS" in err), (6, True))
    database.ask("DELETE FROM runproof.version WHERE number = 1000")
    status, out, err = bench.run("real", bench.words(more="?sslmode=disable"))
    bench.same(f"no TLS, as the address says: {err}", (status, json.loads(out or "{}").get("sent")), (5, len(SCENES)))


if __name__ == "__main__":
    sys.exit(main())
