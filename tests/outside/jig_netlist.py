"""Builds the SPICE netlist of the jig's front end with a control run and an end plug on it.

Written from the circuit's description only; it shares no code with the program that judges.
One call of netlist() is one operating point: what is driven, which relays are closed, and which
converter inputs are selected at that moment.
"""

from dataclasses import dataclass, field
from typing import List, Optional, Tuple, Union

from run_netlist import Run, run_netlist

# ADS1115 data sheet SBAS444E, 5.5 Electrical characteristics and 7.3.3: by full scale, in volts.
LSB_V = {4.096: 125e-6, 2.048: 62.5e-6, 1.024: 31.25e-6, 0.512: 15.625e-6, 0.256: 7.8125e-6}
COMMON_MODE_OHM = {4.096: 6e6, 2.048: 6e6, 1.024: 3e6, 0.512: 100e6, 0.256: 100e6}
DIFFERENTIAL_OHM = {4.096: 15e6, 2.048: 4.9e6, 1.024: 2.4e6, 0.512: 0.71e6, 0.256: 0.71e6}
# SBAS444E 7.3.2: the input capacitors are discharged to about this voltage, not to ground.
COMMON_MODE_RETURN_V = 0.7

# Every node must have a path to ground, or the operating point has no solution: a billionth of
# the smallest current that is measured.
INSULATION_OHM = 1e12

ByPost = Union[float, Tuple[float, ...]]


@dataclass(frozen=True)
class Jig:
    """The front end; four-tuples are by post, 1 first, a single number is for all four."""

    supply_v: float = 3.3
    gpio_ohm: ByPost = 30.0
    gpio_series_ohm: float = 220.0
    ptc_ohm: float = 22.0
    series_ohm: ByPost = 330.0
    drive_fuse_ohm: float = 0.0
    relay_ohm: ByPost = 0.05
    sense_relay_ohm: float = 0.05
    drive_jaw_ohm: ByPost = 0.02
    sense_jaw_ohm: ByPost = 0.02
    sense_ohm: float = 4700.0
    bridge_ohm: float = 10_000.0
    pull_ohm: float = 200_000.0
    pull_line_ohm: float = 220.0
    g_sense_ohm: float = 1000.0
    divider_top_ohm: ByPost = 4.5e6
    divider_bottom_ohm: float = 22_000.0
    mid_v: float = 1.65
    mid_ohm: float = 0.0
    # From each sense and drive node to ground, and from each sense node to its reference line.
    sense_farad: ByPost = 0.0
    drive_farad: ByPost = 0.0
    reference_farad: ByPost = 0.0
    reference_pin_ohm: float = 40.0
    pad_farad: float = 5e-12
    # From each post to the load's star: 47 kohm between any two.
    load_arm_ohm: float = 23_500.0
    # From every node of the front end and the run to ground; None: only what the operating point needs.
    every_node_ohm: Optional[float] = None
    # "either": single-ended readings see the common-mode impedance to ground, differential ones the
    # differential impedance. "both": the input stage as drawn in SBAS444E 7.3.2, each input
    # through its common-mode impedance to 0.7 V and the differential impedance across.
    loading: str = "either"


@dataclass
class State:
    """One operating point."""

    drive: str  # four of H, L, Z
    pulls: str = "ZZ"
    closed: bool = True
    # What the converters have selected: (channel, full scale in volts), e.g. ("N1-N4", 1.024).
    selected: List[Tuple[str, float]] = field(default_factory=list)
    loaded: bool = False  # the load is across the posts
    referred: bool = False  # the reference lines are low


def netlist(jig: Jig, run: Run, state: State, tag: str) -> List[str]:
    """Element lines. `tag` ends every name, so that many states fit in one deck.

    Nodes worth reading are N1..N4, G1..G4, D1..D4, each followed by the tag.
    """
    if len(state.drive) != 4 or set(state.drive) - set("HLZ"):
        raise ValueError(f"drive must be four of H, L, Z, not {state.drive!r}")
    if len(state.pulls) != 2 or set(state.pulls) - set("HLZ"):
        raise ValueError(f"pulls must be two of H, L, Z, not {state.pulls!r}")
    out: List[str] = []

    def r(name: str, a: str, b: str, ohm: float) -> None:
        a, b = (n if n == "0" else n + tag for n in (a, b))
        out.append(f"R{name}{tag} {a} {b} {ohm!r}")

    def v(name: str, a: str, volts: float) -> None:
        out.append(f"V{name}{tag} {a}{tag} 0 DC {volts!r}")

    level = {"H": jig.supply_v, "L": 0.0}
    if jig.mid_ohm:
        v("mid", "midio", jig.mid_v)
        r("mid", "midio", "mid", jig.mid_ohm)
    else:
        v("mid", "mid", jig.mid_v)
    for line, what in enumerate(state.pulls, 1):
        if what != "Z":
            v(f"pu{line}", f"puio{line}", level[what])
            r(f"pul{line}", f"puio{line}", f"PU{line}", jig.pull_line_ohm)
    nodes = ["mid", "PU1", "PU2"]
    for k in range(1, 5):
        if state.drive[k - 1] != "Z":
            v(f"io{k}", f"pin{k}", level[state.drive[k - 1]])
            r(f"io{k}", f"pin{k}", f"io{k}", _of(jig.gpio_ohm, k))
            r(f"gs{k}", f"io{k}", f"pt{k}", jig.gpio_series_ohm)
            r(f"pt{k}", f"pt{k}", f"G{k}", jig.ptc_ohm)
        # G_k - 330 ohm and its fuse - the relay's drive contact, jig side.
        r(f"se{k}", f"G{k}", f"J{k}", _of(jig.series_ohm, k) + jig.drive_fuse_ohm)
        r(f"gu{k}", f"G{k}", f"U2{k}", jig.g_sense_ohm)
        r(f"br{k}", f"J{k}", f"N{k}", jig.bridge_ohm)
        if state.closed:
            r(f"dj{k}", f"J{k}", f"W{k}", _of(jig.relay_ohm, k) + _of(jig.drive_jaw_ohm, k))
            r(f"sj{k}", f"N{k}", f"W{k}", jig.sense_ohm + jig.sense_relay_ohm + _of(jig.sense_jaw_ohm, k))
        if state.loaded:
            r(f"ld{k}", f"W{k}", "star", jig.load_arm_ohm)
        r(f"pa{k}", f"N{k}", "PU1", jig.pull_ohm)
        r(f"pb{k}", f"N{k}", "PU2", jig.pull_ohm)
        r(f"dt{k}", f"W{k}", f"D{k}", _of(jig.divider_top_ohm, k))
        r(f"db{k}", f"D{k}", "mid", jig.divider_bottom_ohm)
        nodes += (node + str(k) for node in ("G", "J", "N", "W", "U2", "D"))
        if _of(jig.reference_farad, k):
            for name, a, b, farad in ((f"n{k}", f"N{k}", "0", _of(jig.sense_farad, k)),
                                      (f"g{k}", f"G{k}", "0", _of(jig.drive_farad, k)),
                                      (f"e{k}", f"N{k}", f"E{k}", _of(jig.reference_farad, k))):
                out.append(f"C{name}{tag} {a}{tag} {b if b == '0' else b + tag} {farad!r}")
            if state.referred:
                r(f"e{k}", f"E{k}", "0", jig.reference_pin_ohm)
            else:
                out.append(f"Cp{k}{tag} E{k}{tag} 0 {jig.pad_farad!r}")
            nodes.append(f"E{k}")
    if state.loaded:
        nodes.append("star")
    nodes += run_netlist(run, tag, out, r)
    if jig.every_node_ohm is None:
        insulated, insulation_ohm = {node for node in nodes if node[0] in "NT"}, INSULATION_OHM
    else:
        insulated, insulation_ohm = set(nodes), jig.every_node_ohm
    for node in sorted(insulated):
        r(f"in{node}", node, "0", insulation_ohm)
    if jig.loading == "both":
        v("ret", "ret", COMMON_MODE_RETURN_V)
    for n, (channel, full_scale) in enumerate(state.selected):
        ends = [_pin(name) for name in channel.split("-")]
        zc, zd = COMMON_MODE_OHM[full_scale], DIFFERENTIAL_OHM[full_scale]
        if jig.loading == "both":
            for e in ends:
                r(f"zc{n}{e}", e, "ret", zc)
            r(f"zd{n}", ends[0], ends[1] if len(ends) == 2 else "0", zd)
        elif jig.loading == "either":
            if len(ends) == 2:
                r(f"zd{n}", ends[0], ends[1], zd)
            else:
                r(f"zc{n}", ends[0], "0", zc)
        else:
            raise ValueError(f"loading must be 'either' or 'both', not {jig.loading!r}")
    return out


def _of(value: ByPost, post: int) -> float:
    return value[post - 1] if isinstance(value, tuple) else value


def _pin(name: str) -> str:
    """The converter's input for a channel's node: G is read through 1 kilohm."""
    return "U2" + name[1:] if name[0] == "G" else name


def channel_nodes(channel: str) -> List[str]:
    """The nodes whose difference (or single voltage) a channel reads."""
    return [_pin(name) for name in channel.split("-")]
