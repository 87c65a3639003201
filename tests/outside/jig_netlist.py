"""Builds the SPICE netlist of the jig's front end with a control run and an end plug on it.

The front end is firmware/jig/front-end.cir, which is what is to be built; added here are how its
lines are driven, its contacts, the converters' inputs and the run. It shares no code with the
program that judges. One call of netlist() is one operating point: what is driven, which relays are closed, and which
converter inputs are selected at that moment.
"""

from dataclasses import dataclass, field
from typing import List, Optional, Tuple, Union

import front_end
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

# What the parts are unless something else is said.
POST, COMMON, SUPPLY_LOAD = (front_end.blocks()[name].parameters for name in ("post", "common", "supplyload"))

# A contact that is open; a cold fuse; a contact of the load's relay, which changes nothing.
OUT = 1e21
FUSE_OHM = POST["r_fuse"]
LOAD_CONTACT_OHM = 1e-3
# Nodes of the front end that need no path of their own to ground: what leads to them has one.
OWN = ("rail", "star", "sl", "dl", "pin", "pu1pin", "pu2pin")

ByPost = Union[float, Tuple[float, ...]]


@dataclass(frozen=True)
class Jig:
    """The front end, of parts as front-end.cir has them unless told; four-tuples are by post, 1 first, a single number is for all four."""

    supply_v: float = 3.3
    gpio_ohm: ByPost = 30.0
    gpio_series_ohm: float = POST["r_pin_series"]
    ptc_ohm: float = POST["r_ptc"]
    # With its fuse, of which drive_fuse_ohm is beyond series_ohm.
    series_ohm: ByPost = POST["r_k"]
    drive_fuse_ohm: float = 0.0
    relay_ohm: ByPost = 0.05
    drive_jaw_ohm: ByPost = 0.02
    sense_jaw_ohm: ByPost = 0.02
    # With its fuse and the relay's contact.
    sense_ohm: float = POST["r_sense"]
    bridge_ohm: float = POST["r_bridge"]
    # Each of two in series.
    pull_ohm: float = POST["r_pull"]
    pull_line_ohm: float = COMMON["r_line"]
    pull_pin_ohm: float = 30.0
    g_sense_ohm: float = POST["r_u2"]
    divider_top_ohm: ByPost = 3.0 * POST["r_top"]
    divider_bottom_ohm: float = POST["r_foot"]
    mid_v: float = COMMON["v_mid"]
    mid_ohm: float = COMMON["r_mid"]
    # From each sense and drive node to ground, and from each sense node to its reference line.
    sense_farad: ByPost = 0.0
    drive_farad: ByPost = 0.0
    reference_farad: ByPost = 0.0
    reference_pin_ohm: float = 40.0
    pad_farad: float = 5e-12
    # From each post to the load's star: 47 kohm between any two.
    load_arm_ohm: float = POST["r_load"]
    # Across posts 3 and 4, with its fuse and contacts.
    supply_load_ohm: float = SUPPLY_LOAD["r_load"] + SUPPLY_LOAD["r_fuse"]
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
    supply_loaded: bool = False  # the supply load is across posts 3 and 4


def netlist(jig: Jig, run: Run, state: State, tag: str) -> List[str]:
    """Element lines. `tag` ends every name, so that many states fit in one deck.

    Nodes worth reading are n1..n4, g1..g4, u21..u24, d1..d4, each followed by the tag.
    """
    if len(state.drive) != 4 or set(state.drive) - set("HLZ"):
        raise ValueError(f"drive must be four of H, L, Z, not {state.drive!r}")
    if len(state.pulls) != 2 or set(state.pulls) - set("HLZ"):
        raise ValueError(f"pulls must be two of H, L, Z, not {state.pulls!r}")
    out: List[str] = []
    nodes: List[str] = []

    def r(name: str, a: str, b: str, ohm: float) -> None:
        a, b = (n if n == "0" else n + tag for n in (a, b))
        out.append(f"R{name}{tag} {a} {b} {ohm!r}")

    def block(name: str, number: str, ports: str, **changed: float) -> None:
        """Adds a part of the front end; each of `ports` is called as in the file, with `number` behind it where it is a post's."""
        told = {port.rstrip("*"): port.replace("*", number) for port in ports.split()}
        if name == "post":
            # The simulated circuit has sensing jaw and divider at the conductor.
            told.update(sl=f"sl{number}", dv=told["wire"])
        out.extend(front_end.elements(name, {port: node + tag for port, node in told.items()}, changed, number + tag))
        nodes.extend(node for node in told.values() if node not in nodes and not node.startswith(OWN))

    def pin(node: str, level: str, ohm: float) -> None:
        """Drives a pad; floating, it is left to what leads to it."""
        if level != "Z":
            out.append(f"Vp{node}{tag} v{node}{tag} 0 DC {jig.supply_v if level == 'H' else 0.0!r}")
            r(f"p{node}", f"v{node}", node, ohm)

    block("common", "", "pu1pin pu2pin pu1 pu2 mid rail", r_line=jig.pull_line_ohm, v_mid=jig.mid_v,
          r_mid=jig.mid_ohm)
    for line, level in enumerate(state.pulls, 1):
        pin(f"pu{line}pin", level, jig.pull_pin_ohm)
    contact_ohm = 0.05  # of the sense path: counted to sense_ohm
    for k in range(1, 5):
        block(
            "post", str(k), "pin* ref* pu1 pu2 mid star rail wire* dl* g* j* n* u2* d*",
            r_pin_series=jig.gpio_series_ohm, r_ptc=jig.ptc_ohm,
            r_k=_of(jig.series_ohm, k) + jig.drive_fuse_ohm - FUSE_OHM, r_fuse=FUSE_OHM,
            r_sense=jig.sense_ohm - FUSE_OHM - contact_ohm, r_bridge=jig.bridge_ohm, r_pull=jig.pull_ohm,
            r_u2=jig.g_sense_ohm, r_top=_of(jig.divider_top_ohm, k) / 3.0, r_foot=jig.divider_bottom_ohm,
            r_load=jig.load_arm_ohm, c_sense=_of(jig.sense_farad, k), c_ref=_of(jig.reference_farad, k),
            c_drive=_of(jig.drive_farad, k), drive_contact=_of(jig.relay_ohm, k) if state.closed else OUT,
            sense_contact=contact_ohm if state.closed else OUT, load_contact=LOAD_CONTACT_OHM if state.loaded else OUT,
            drive_jaw=_of(jig.drive_jaw_ohm, k), sense_jaw=_of(jig.sense_jaw_ohm, k),
        )
        pin(f"pin{k}", state.drive[k - 1], _of(jig.gpio_ohm, k))
        if not _of(jig.reference_farad, k):
            nodes.remove(f"ref{k}")
        elif state.referred:
            r(f"e{k}", f"ref{k}", "0", jig.reference_pin_ohm)
        else:
            out.append(f"Cp{k}{tag} ref{k}{tag} 0 {jig.pad_farad!r}")
    if state.loaded:
        nodes.append("star")
    if state.supply_loaded:
        block("supplyload", "", "dl3 dl4", r_load=jig.supply_load_ohm - SUPPLY_LOAD["r_fuse"] - 2.0 * LOAD_CONTACT_OHM,
              contact=LOAD_CONTACT_OHM)
    nodes += run_netlist(run, tag, out, r)
    if jig.every_node_ohm is None:
        insulated, insulation_ohm = {node for node in nodes if node[0] in "nT"}, INSULATION_OHM
    else:
        insulated, insulation_ohm = set(nodes), jig.every_node_ohm
    for node in sorted(insulated):
        r(f"in{node}", node, "0", insulation_ohm)
    if jig.loading == "both":
        out.append(f"Vret{tag} ret{tag} 0 DC {COMMON_MODE_RETURN_V!r}")
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
    return "u2" + name[1:] if name[0] == "G" else name.lower()


def channel_nodes(channel: str) -> List[str]:
    """The nodes whose difference (or single voltage) a channel reads."""
    return [_pin(name) for name in channel.split("-")]
