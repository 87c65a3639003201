"""Reads the golden frames with other people's COBS and CRC and compares every byte.

    python3 check_frames.py SNAPSHOT

Needs the packages in requirements.txt. Each message of the snapshot is a line of words and a line
of hex. Exit status 1 if a frame is not zero-free COBS with one zero byte behind it, if its CRC-32
is not that of its body, or if framing the body again gives other bytes.
"""

import re
import sys
from typing import List, Tuple

from cobs import cobs
from crccheck.crc import Crc32

CRC_BYTES = 4


def frames(text: str) -> List[Tuple[str, bytes]]:
    """(message, frame) of each message in the snapshot."""
    found = re.findall(r"^(\S.*)\n    ([0-9a-f]+)$", text, re.MULTILINE)
    return [(message, bytes.fromhex(digits)) for message, digits in found]


def wrong(frame: bytes) -> str:
    """What is wrong with a frame; empty if nothing is."""
    if frame[-1:] != b"\0" or b"\0" in frame[:-1]:
        return "no zero byte at its end, or one before it"
    try:
        plain = cobs.decode(frame[:-1])
    except cobs.DecodeError as error:
        return f"not COBS: {error}"
    body, crc = plain[:-CRC_BYTES], int.from_bytes(plain[-CRC_BYTES:], "little")
    if not body:
        return "no body"
    if Crc32.calc(body) != crc:
        return f"CRC {crc:08x}, should be {Crc32.calc(body):08x}"
    again = cobs.encode(body + Crc32.calc(body).to_bytes(CRC_BYTES, "little")) + b"\0"
    return "" if again == frame else "framed again it has other bytes"


def main() -> int:
    with open(sys.argv[1], encoding="utf-8") as file:
        text = file.read()
    found = frames(text)
    bad = [f"{message}\n    {frame.hex()}: {why}" for message, frame in found if (why := wrong(frame))]
    print("\n".join(bad), end="\n" if bad else "")
    print(f"{len(found) - len(bad)} frames right, {len(bad)} wrong")
    hex_lines = len(re.findall(r"^    ", text, re.MULTILINE))
    if not found or len(found) != hex_lines:
        print(f"{hex_lines} lines of hex in the snapshot, {len(found)} read")
        return 1
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
