"""Builds the SPICE netlist of the jig's front end with a control run and an end plug on it.

Written from the circuit's description only; it shares no code with the program that judges.
One call of netlist() is one operating point: what is driven, which relays are closed, and which
converter inputs are selected at that moment.
"""

from dataclasses import dataclass, field, replace
from typing import List, Optional, Sequence, Tuple

# Copper, IEC 60028 (1925): 1/58 ohm mm2/m at 20 C, 0.00393 per kelvin at constant mass.
COPPER_OHM_MM2_PER_M = 1.0 / 58.0
COPPER_PER_KELVIN = 0.00393

# ADS1115 data sheet SBAS444E, 5.5 Electrical characteristics and 7.3.3: by full scale, in volts.
LSB_V = {4.096: 125e-6, 2.048: 62.5e-6, 1.024: 31.25e-6, 0.512: 15.625e-6, 0.256: 7.8125e-6}
COMMON_MODE_OHM = {4.096: 6e6, 2.048: 6e6, 1.024: 3e6, 0.512: 100e6, 0.256: 100e6}
DIFFERENTIAL_OHM = {4.096: 15e6, 2.048: 4.9e6, 1.024: 2.4e6, 0.512: 0.71e6, 0.256: 0.71e6}
# SBAS444E 7.3.2: the input capacitors are discharged to about this voltage, not to ground.
COMMON_MODE_RETURN_V = 0.7

# Every node must have a path to ground, or the operating point has no solution: a billionth of
# the smallest current that is measured.
INSULATION_OHM = 1e12


def awg_area_mm2(gauge: int) -> float:
    """Cross-section of solid wire, ASTM B258: d = 0.005 in x 92^((36 - n)/39)."""
    diameter_mm = 25.4 * 0.005 * 92.0 ** ((36 - gauge) / 39.0)
    return 3.141592653589793 / 4.0 * diameter_mm**2


def wire_ohm(gauge: int, metres: float, celsius: float) -> float:
    """Resistance of one copper conductor."""
    at_20 = COPPER_OHM_MM2_PER_M * metres / awg_area_mm2(gauge)
    return at_20 * (1.0 + COPPER_PER_KELVIN * (celsius - 20.0))


@dataclass(frozen=True)
class Jig:
    """The front end; four-tuples are by post, 1 first."""

    supply_v: float = 3.3
    gpio_ohm: float = 30.0
    gpio_series_ohm: float = 220.0
    ptc_ohm: float = 22.0
    series_ohm: Tuple[float, ...] = (330.0,) * 4
    drive_fuse_ohm: float = 0.0
    relay_ohm: float = 0.05
    drive_jaw_ohm: Tuple[float, ...] = (0.02,) * 4
    sense_jaw_ohm: Tuple[float, ...] = (0.02,) * 4
    sense_ohm: float = 4700.0
    bridge_ohm: float = 10_000.0
    pull_ohm: float = 200_000.0
    pull_line_ohm: float = 220.0
    g_sense_ohm: float = 1000.0
    divider_top_ohm: float = 4.5e6
    divider_bottom_ohm: float = 22_000.0
    mid_v: float = 1.65
    # "either": single-ended readings see the common-mode impedance to ground, differential ones the
    # differential impedance. "both": the input stage as drawn in SBAS444E 7.3.2, each input
    # through its common-mode impedance to 0.7 V and the differential impedance across.
    loading: str = "either"


@dataclass(frozen=True)
class Conductor:
    ohm: float  # the wire alone
    reaches: int  # plug terminal, 1 to 4
    far_contact_ohm: float = 0.03
    open_at: Optional[float] = None  # fraction of the length from the jig, or whole


# In the order 1-3, 3-4, 4-2, 2-1.
RING_TERMINALS = ((1, 3), (3, 4), (4, 2), (2, 1))
RING_OHM = (33.2, 47.5, 68.1, 150.0)


@dataclass(frozen=True)
class Run:
    conductors: Tuple[Conductor, ...]
    ring_ohm: Optional[Tuple[float, ...]] = RING_OHM  # None: no plug


def straight(gauge: int, metres: float, celsius: float, to: Sequence[int] = (1, 2, 3, 4), **changes) -> Run:
    """Four like conductors; `to` is the plug terminal that each post reaches."""
    ohm = wire_ohm(gauge, metres, celsius)
    return Run(tuple(Conductor(ohm, t) for t in to), **changes)


def with_open(run: Run, post: int, at: float) -> Run:
    """The same run with the conductor at `post` cut."""
    cs = list(run.conductors)
    cs[post - 1] = replace(cs[post - 1], open_at=at)
    return replace(run, conductors=tuple(cs))


@dataclass
class State:
    """One operating point."""

    drive: str  # four of H, L, Z
    pulls: str = "ZZ"
    closed: bool = True
    # What the converters have selected: (channel, full scale in volts), e.g. ("N1-N4", 1.024).
    selected: List[Tuple[str, float]] = field(default_factory=list)


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
    v("mid", "mid", jig.mid_v)
    for line, what in enumerate(state.pulls, 1):
        if what != "Z":
            v(f"pu{line}", f"puio{line}", level[what])
            r(f"pul{line}", f"puio{line}", f"PU{line}", jig.pull_line_ohm)
    for k in range(1, 5):
        i = k - 1
        if state.drive[i] != "Z":
            v(f"io{k}", f"pin{k}", level[state.drive[i]])
            r(f"io{k}", f"pin{k}", f"io{k}", jig.gpio_ohm)
            r(f"gs{k}", f"io{k}", f"pt{k}", jig.gpio_series_ohm)
            r(f"pt{k}", f"pt{k}", f"G{k}", jig.ptc_ohm)
        # G_k - 330 ohm - (fuse) - the relay's drive contact, jig side.
        if jig.drive_fuse_ohm:
            r(f"se{k}", f"G{k}", f"fu{k}", jig.series_ohm[i])
            r(f"fu{k}", f"fu{k}", f"J{k}", jig.drive_fuse_ohm)
        else:
            r(f"se{k}", f"G{k}", f"J{k}", jig.series_ohm[i])
        r(f"gu{k}", f"G{k}", f"U2{k}", jig.g_sense_ohm)
        r(f"br{k}", f"J{k}", f"N{k}", jig.bridge_ohm)
        r(f"sn{k}", f"N{k}", f"S{k}", jig.sense_ohm)
        if state.closed:
            r(f"rd{k}", f"J{k}", f"jd{k}", jig.relay_ohm)
            r(f"rs{k}", f"S{k}", f"js{k}", jig.relay_ohm)
        r(f"dj{k}", f"jd{k}", f"W{k}", jig.drive_jaw_ohm[i])
        r(f"sj{k}", f"js{k}", f"W{k}", jig.sense_jaw_ohm[i])
        r(f"pa{k}", f"N{k}", "PU1", jig.pull_ohm)
        r(f"pb{k}", f"N{k}", "PU2", jig.pull_ohm)
        r(f"dt{k}", f"W{k}", f"D{k}", jig.divider_top_ohm)
        r(f"db{k}", f"D{k}", "mid", jig.divider_bottom_ohm)
        r(f"in{k}", f"N{k}", "0", INSULATION_OHM)
        r(f"it{k}", f"T{k}", "0", INSULATION_OHM)
        # The run: post, wire, far clip, plug terminal.
        c = run.conductors[i]
        if c.open_at is None:
            r(f"w{k}", f"W{k}", f"F{k}", c.ohm)
        else:
            r(f"wn{k}", f"W{k}", f"cn{k}", c.ohm * c.open_at)
            r(f"wf{k}", f"cf{k}", f"F{k}", c.ohm * (1.0 - c.open_at))
        r(f"fc{k}", f"F{k}", f"T{c.reaches}", c.far_contact_ohm)
    if run.ring_ohm is not None:
        for (a, b), ohm in zip(RING_TERMINALS, run.ring_ohm):
            r(f"ring{a}{b}", f"T{a}", f"T{b}", ohm)
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


def _pin(name: str) -> str:
    """The converter's input for a channel's node: G is read through 1 kilohm."""
    return "U2" + name[1:] if name[0] == "G" else name


def channel_nodes(channel: str) -> List[str]:
    """The nodes whose difference (or single voltage) a channel reads."""
    return [_pin(name) for name in channel.split("-")]
