#!/usr/bin/env python3
"""Reports, lots, jigs, audits and labels as PDF, read by other programs: poppler, Chromium and a QR reader.

    python3 check_papers.py RUNPROOF_BINARY

A PDF must hold every word of the page for a browser, fit its sheets, and stay small; its code must read as `runproof code` says it. A label
must be read by a camera as a printer of 300 dots an inch draws it, its verdict and name be 1.5 mm high, and never say more than its record."""

import collections
import html.parser
import os
import re
import subprocess
import sys
import tempfile
import unicodedata
from typing import Dict, List, Tuple

BYTES_MAX = 500 * 1000
CAPITALS_MM = 1.5
WORST = """about = "several faults"
plug = "goes-in"
[run]
length_m = 30.0
ohm_per_km = 20.95
copper_c = 20.0
arrives_at = [2, 1, 4, 3]
joint = [{ post = 3, at = 0.6, ohm = 4.2 }]
open = [{ post = 1, at = 0.4 }]
"""
HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(2)> \"q\" 'q' & </style></title>]]> 数據線 − Ω ± µ é ő ж " + "long" * 30
LONGEST = ("The control has lost its connection since the attic was insulated. " * 60)[:4000].strip()
CHECKS = [["good-run"], ["crossed-supply", "--gauge", "18awg", "--length", "100ft"], ["nail-through-three"], ["reversed-and-open"], ["damp-splice"],
          ["two-wire", "--sheet", "two-wire-bus"], ["terminator-left"], ["corroded-splice"], ["nicked-to-conduit", "--to-earth", "--yes"],
          ["shield-bonded-far", "--to-earth", "--yes"]]
LIVE = ["live-reversed", "live-mains-on-data", "live-over-voltage", "live-hum"]


class Words(html.parser.HTMLParser):
    """What a reader sees of a page; a picture's title and description are heard, not seen."""

    def __init__(self) -> None:
        super().__init__()
        self.unseen: List[str] = []
        self.said: List[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag in ("style", "desc", "title"):
            self.unseen.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if self.unseen and self.unseen[-1] == tag:
            self.unseen.pop()

    def handle_data(self, data: str) -> None:
        if not self.unseen:
            self.said.append(data)


class Bench:
    def __init__(self, binary: str, folder: str) -> None:
        self.binary, self.folder = os.path.abspath(binary), folder
        self.wrong: List[str] = []
        self.held = 0

    def run(self, *words: str, status_max: int = 2) -> str:
        environment = dict(os.environ, XDG_DATA_HOME=self.folder)
        done = subprocess.run([self.binary, *words], capture_output=True, timeout=120, env=environment, cwd=self.folder)
        if done.returncode > status_max:
            raise SystemExit(f"{' '.join(words)} failed:\n{done.stderr.decode()}")
        return done.stdout.decode()

    def holds(self, what: str, is_so: bool) -> None:
        self.held += 1
        if not is_so:
            self.wrong.append(what)

    def path(self, name: str) -> str:
        return os.path.join(self.folder, name)


def tool(*words: str) -> bytes:
    return subprocess.run(words, capture_output=True, timeout=120, check=True).stdout


def pages(pdf: str) -> int:
    return int(re.search(rb"Pages:\s+(\d+)", tool("pdfinfo", pdf)).group(1))


def pdf_text(pdf: str) -> str:
    return plain(tool("pdftotext", "-raw", "-enc", "UTF-8", pdf, "-").decode())


def plain(text: str) -> str:
    """Letters as they are typed: no ligatures, no marks that turn the direction."""
    kept = (c for c in text if unicodedata.category(c) != "Cf")
    return unicodedata.normalize("NFKC", "".join(kept))


def missing(page: str, pdf: str) -> List[str]:
    """Words of the page that the PDF lacks; one that is longer than a line is parted there."""
    reader = Words()
    with open(page, encoding="utf-8") as file:
        reader.feed(file.read())
    text = pdf_text(pdf)
    said = "".join(f"[U+{ord(c):04X}]" if "\u2e80" <= c <= "\u9fff" else c for c in plain(" ".join(reader.said)))
    left = collections.Counter(said.split()) - collections.Counter(text.split())
    whole = "".join(text.split())
    return [word for word in left if len(word) < 30 or word not in whole]


def camera(pdf: str, folder: str, page: int = 1) -> List[str]:
    """What a QR reader reads of a page as a printer of 300 dots an inch draws it."""
    picture = os.path.join(folder, "seen")
    tool("pdftoppm", "-r", "300", "-gray", "-png", "-singlefile", "-f", str(page), "-l", str(page), pdf, picture)
    return read(picture + ".png")


def read(picture: str) -> List[str]:
    done = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", picture], capture_output=True, timeout=60)
    return sorted(done.stdout.decode().split())


def rows(pdf: str, folder: str, from_mm: float) -> List[Tuple[float, float]]:
    """Where there is ink right of there: from and to, in millimetres."""
    dots = 600
    picture = os.path.join(folder, "rows")
    tool("pdftoppm", "-r", str(dots), "-gray", "-singlefile", pdf, picture)
    with open(picture + ".pgm", "rb") as file:
        kind, size, most, bits = file.read().split(b"\n", 3)
    width, height = map(int, size.split())
    assert kind == b"P5" and most == b"255", (kind, most)
    first = int(from_mm / 25.4 * dots)
    dark = [min(bits[row * width + first : (row + 1) * width]) < 128 for row in range(height)] + [False]
    found: List[Tuple[float, float]] = []
    begun = None
    for row, is_dark in enumerate(dark):
        if is_dark and begun is None:
            begun = row
        if not is_dark and begun is not None:
            found.append((begun / dots * 25.4, row / dots * 25.4))
            begun = None
    return found


def document(bench: Bench, name: str, words: List[str], most: int = 1) -> str:
    page, pdf = bench.path(f"{name}.html"), bench.path(f"{name}.pdf")
    bench.run(*words, "--to", page)
    bench.run(*words, "--to", pdf)
    lacks = missing(page, pdf)
    bench.holds(f"{name}: the PDF lacks {lacks[:20]}", not lacks)
    bench.holds(f"{name}: {pages(pdf)} sheets, not {most} at most", pages(pdf) <= most)
    bench.holds(f"{name}: {os.path.getsize(pdf)} bytes", os.path.getsize(pdf) <= BYTES_MAX)
    return pdf


def reports(bench: Bench) -> None:
    scene = bench.path("worst.toml")
    with open(scene, "w", encoding="utf-8") as file:
        file.write(WORST)
    about = [word for key in ("run-name", "place", "operator", "equipment-model", "equipment-serial", "symptom", "note") for word in (f"--{key}", HOSTILE)]
    bench.run("check", "--simulate", scene, "--job", HOSTILE, *about)
    bench.run("check", "--simulate", scene, "--job", "worst", "--note", LONGEST)
    for check in CHECKS:
        bench.run("check", "--simulate", *check, "--job", "job 47")
    for scene in LIVE:
        bench.run("live", "--simulate", scene, "--at", "plate")
    bench.run("reel", "--simulate", "reel-copper", "--reel", "R17", "--gauge", "18awg", "--surface", "plain", "--temperature", "20..20C")
    count = 2 + len(CHECKS) + len(LIVE) + 1
    bench.run("records", "void", "5", "--reason", HOSTILE)
    for number in range(1, count + 1):
        pdf = document(bench, f"record-{number}", ["report", str(number)])
        said = [] if number == count else [bench.run("code", str(number)).split("\n")[0]]
        bench.holds(f"record {number}: the camera reads {camera(pdf, bench.folder)}, not {said}", camera(pdf, bench.folder) == said)
    document(bench, "before-and-after", ["report", "4", "--before", "3"], 3)
    document(bench, "job", ["report", "--all-of-job", "job 47"], len(CHECKS) + 1)
    everything = [word for key in ("run-name", "place", "symptom", "note") for word in (f"--{key}", LONGEST)]
    bench.run("check", "--simulate", bench.path("worst.toml"), *everything)
    document(bench, "goes-on", ["report", str(count + 1)], 3)


def shop(bench: Bench) -> None:
    for _ in range(3):
        bench.run("prove", "--simulate", "pieces")
    bench.run("lot", "open", "R1", "--units", "8", "--series", "reels", "--every-unit")
    for unit in range(1, 5):
        bench.run("check", "--simulate", "good-run", "--yes", "--lot", "R1", "--unit", str(unit))
    bench.run("check", "--simulate", "crossed-supply", "--yes", "--lot", "R1", "--unit", "3")
    bench.run("check", "--simulate", "good-run", "--yes", "--lot", "R1", "--unit", "3")
    bench.run("lot", "open", "R2", "--units", "400", "--series", HOSTILE[:200].strip(), "--aql", "1.0")
    document(bench, "lot", ["lot", "show", "R2"])
    document(bench, "jig", ["proofs", "--jig", "seed-1"], 4)
    pdf = document(bench, "audit", ["audit", "--jig", "seed-1"], 8)
    told = plain(bench.run("audit", "--jig", "seed-1"))
    sheets = re.findall(r"\b[0-9a-f]{64}\b", told)
    bench.holds("an audit says by which texts of limit sheets it was judged", len(sheets) > 10 and all(one in pdf_text(pdf) for one in sheets))


def labels(bench: Bench) -> None:
    listed = bench.run("records", "export", "--as", "json")
    number = max(int(one) for one in re.findall(r'"number":(\d+)', listed)) + 1
    tests: Dict[str, Tuple[List[str], str]] = {
        "pass": (["check", "--simulate", "good-run"], "PASS"), "fail": (["check", "--simulate", "crossed-supply"], "FAIL"),
        "unsure": (["check", "--simulate", "no-plug"], "CANNOT TELL"), "void": (["check", "--simulate", "good-run"], "VOID"),
        "reel": (["reel", "--simulate", "reel-copper", "--gauge", "18awg", "--surface", "plain", "--temperature", "20..20C", "--marks", "0ft..492ft"], ""),
    }
    for name, (words, verdict) in tests.items():
        told = bench.run(*words, *(["--reel", "R17"] if name == "reel" else ["--run-name", "R17"]))
        verdict = verdict or told.split(":")[0]
        if name == "void":
            bench.run("records", "void", str(number), "--reason", "wrong wire")
        pdf, drawing = bench.path(f"label-{name}.pdf"), bench.path(f"label-{name}.svg")
        bench.run("label", str(number), "--to", pdf)
        bench.run("label", str(number), "--to", drawing)
        words_on = pdf_text(pdf).split()
        for word in verdict.split() + ["SIMULATED", "R17"]:
            bench.holds(f"label {name}: {words_on} lacks {word}", word in words_on)
        bench.holds(f"label {name} says PASS", ("PASS" in words_on) == (verdict == "PASS"))
        whole = bench.run("records", "show", str(number))
        said = re.search(r"id ([0-9a-f-]{36})", bench.run("report", str(number), "--to", bench.path(f"{name}.html")) + whole + open(bench.path(f"{name}.html"), encoding="utf-8").read())
        expected = said.group(1).upper() if name == "reel" else bench.run("code", str(number)).split("\n")[0]
        bench.holds(f"label {name}: the camera reads {camera(pdf, bench.folder)}, not {expected}", camera(pdf, bench.folder) == [expected])
        seen = bench.path("label.png")
        tool("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--window-size=600,300", "--force-device-scale-factor=3.125",
             f"--user-data-dir={bench.path('profile')}", f"--screenshot={seen}", f"file://{drawing}")
        bench.holds(f"label {name}, drawn: the camera reads {read(seen)}, not {expected}", read(seen) == [expected])
        lines = rows(pdf, bench.folder, 14.4)
        for what, line in (("verdict", lines[0]), ("name", lines[2])):
            bench.holds(f"label {name}: its {what} is {line[1] - line[0]:.2f} mm high", line[1] - line[0] >= CAPITALS_MM)
        number += 1
    pdf = bench.path("sheet.pdf")
    bench.run("label", "--lot", "R1", "--pitch", "32x17mm", "--to", pdf)
    words_on = pdf_text(pdf).split()
    bench.holds(f"a lot's labels say {words_on}", (words_on.count("PASS"), words_on.count("FAIL"), words_on.count("R1")) == (3, 1, 4))
    bench.holds(f"a camera reads {camera(pdf, bench.folder)} of a sheet", len(camera(pdf, bench.folder)) == 4)


def main() -> int:
    if len(sys.argv) != 2 or not os.access(sys.argv[1], os.X_OK):
        print(__doc__, file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(sys.argv[1], folder)
        reports(bench)
        shop(bench)
        labels(bench)
    for line in bench.wrong:
        print(line, file=sys.stderr)
    print(f"papers: {bench.held} checks, {len(bench.wrong)} failed")
    return 1 if bench.wrong or bench.held < 100 else 0


if __name__ == "__main__":
    sys.exit(main())
