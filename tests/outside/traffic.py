"""Data on a pair as a voltage in time, from what a scene says of it.

Time is cut into slots of `packet_bits + idle_bits`; in each a packet begins 0 to `idle_bits` late. Of a slot's
numbers the first says how late, the others hold its bits, 64 each, the lowest first.
"""

from typing import Dict, Iterator, Tuple

BITS = (1 << 64) - 1
# From one level to the other, about the moment when it should be at once.
EDGE_S = 2e-7


def split_mix(seed: int, index: int) -> int:
    """Number `index` of SplitMix64: Steele, Lea, Flood, "Fast splittable pseudorandom number generators", 2014."""
    z = (seed + 0x9E3779B97F4A7C15 * (index + 1)) & BITS
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & BITS
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & BITS
    return z ^ (z >> 31)


def levels(traffic: Dict, from_s: float, to_s: float) -> Iterator[Tuple[float, int]]:
    """When it changes and to what, of 1, -1, 0; the first is what it is at `from_s`."""
    baud, packet, idle, seed = (traffic[key] for key in ("baud", "packet_bits", "idle_bits", "seed"))
    words = 1 + -(-packet // 64)
    last = None
    for bit in range(int(from_s * baud), int(to_s * baud) + 1):
        slot, at = divmod(bit, packet + idle)
        at -= split_mix(seed, slot * words) % (idle + 1)
        level = 0
        if 0 <= at < packet:
            level = 1 if split_mix(seed, slot * words + 1 + at // 64) >> (at % 64) & 1 else -1
        if level != last:
            yield max(bit / baud, from_s), level
        last = level


def pwl(traffic: Dict, begins_s: float, ends_s: float) -> str:
    """For ngspice, whose 0 is `begins_s`."""
    changes = list(levels(traffic, begins_s, ends_s))
    before = changes[0][1] * traffic["volts"]
    corners = [f"0 {before!r}"]
    for time_s, level in changes[1:]:
        volts, time_s = level * traffic["volts"], time_s - begins_s
        corners += [f"{time_s - EDGE_S / 2.0!r} {before!r}", f"{time_s + EDGE_S / 2.0!r} {volts!r}"]
        before = volts
    return f"PWL({' '.join(corners)})"
