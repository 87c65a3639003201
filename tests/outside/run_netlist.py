"""Builds the run as a netlist: four conductors with their faults, what is on them, the end plug.

Written from the circuit's description only. Everything is named by conductor, 1 to 4; `post` says
which clip holds it.
"""

from dataclasses import dataclass, replace
from typing import Callable, List, Optional, Sequence, Tuple

# Copper, IEC 60028 (1925): 1/58 ohm mm2/m at 20 C, 0.00393 per kelvin at constant mass.
COPPER_OHM_MM2_PER_M = 1.0 / 58.0
COPPER_PER_KELVIN = 0.00393


def awg_area_mm2(gauge: int) -> float:
    """Cross-section of solid wire, ASTM B258: d = 0.005 in x 92^((36 - n)/39)."""
    diameter_mm = 25.4 * 0.005 * 92.0 ** ((36 - gauge) / 39.0)
    return 3.141592653589793 / 4.0 * diameter_mm**2


def wire_ohm(gauge: int, metres: float, celsius: float) -> float:
    """Resistance of one copper conductor."""
    at_20 = COPPER_OHM_MM2_PER_M * metres / awg_area_mm2(gauge)
    return at_20 * (1.0 + COPPER_PER_KELVIN * (celsius - 20.0))


@dataclass(frozen=True)
class Conductor:
    ohm: float  # the wire alone
    reaches: int  # far terminal, 1 to 4
    far_contact_ohm: float = 0.03  # of the tail, at the terminal that it reaches
    open_at: Optional[float] = None  # fraction of the length from the jig, or whole
    post: Optional[int] = None  # the clip that holds it; None: its own
    joints: Tuple[Tuple[float, float], ...] = ()  # (fraction of the length, ohm)


@dataclass(frozen=True)
class Short:
    """A path between two conductors; where one of them is broken or has a joint, on the jig's side of it."""

    between: Tuple[int, int]
    at: float
    ohm: float


@dataclass(frozen=True)
class Device:
    """What was left on between two far terminals. Beyond `from_v`, either way, it is `from_v` behind `ohm` as well."""

    between: Tuple[int, int]
    ohm: float
    from_v: Optional[float] = None
    blocks_ohm: float = 0.0


@dataclass(frozen=True)
class Source:
    """A source between two terminals, 0 for earth, by wire through `ohm` or from alongside through `farad`."""

    between: Tuple[int, int]
    gives: str  # as ngspice takes it: "DC 12.0 AC 1.0 90.0", "SIN(...)"
    ohm: Optional[float] = None
    farad: Optional[float] = None
    near: bool = False  # at the jig's end of the run


# In the order 1-3, 3-4, 4-2, 2-1.
RING_TERMINALS = ((1, 3), (3, 4), (4, 2), (2, 1))
RING_OHM = (33.2, 47.5, 68.1, 150.0)


@dataclass(frozen=True)
class Run:
    conductors: Tuple[Conductor, ...]
    ring_ohm: Optional[Tuple[float, ...]] = RING_OHM  # None: no plug
    shorts: Tuple[Short, ...] = ()
    pair_farad: float = 0.0  # between any two conductors, along all their length
    devices: Tuple[Device, ...] = ()
    plugged_to: Tuple[int, ...] = (1, 2, 3, 4)  # the plug's terminal that each far one is joined to
    sources: Tuple[Source, ...] = ()
    earth_farad: Optional[float] = None  # from the jig's ground to earth; None: that is one


def straight(gauge: int, metres: float, celsius: float, to: Sequence[int] = (1, 2, 3, 4), **changes) -> Run:
    """Four like conductors; `to` is the far terminal that each post reaches."""
    ohm = wire_ohm(gauge, metres, celsius)
    return Run(tuple(Conductor(ohm, t) for t in to), **changes)


def with_open(run: Run, post: int, at: float) -> Run:
    """The same run with the conductor at `post` cut."""
    cs = list(run.conductors)
    cs[post - 1] = replace(cs[post - 1], open_at=at)
    return replace(run, conductors=tuple(cs))


def with_short(run: Run, pair: Tuple[int, int], at: float, ohm: float) -> Run:
    """The same run with a path between two conductors."""
    return replace(run, shorts=(*run.shorts, Short(pair, at, ohm)))


def run_netlist(run: Run, tag: str, out: List[str], r: Callable[[str, str, str, float], None]) -> List[str]:
    """Adds the run's lines to `out`, from wire1..wire4 to the plug; returns the names of its nodes."""
    places = sorted({0.0, 1.0, *(s.at for s in run.shorts),
                     *(c.open_at for c in run.conductors if c.open_at is not None),
                     *(at for c in run.conductors for at, _ in c.joints)})
    # By conductor and place: the node on the jig's side, and the one on the far side.
    sides = [_conductor(c, k, places, r) for k, c in enumerate(run.conductors, 1)]

    def c(name: str, a: str, b: str, farad: float) -> None:
        if farad:
            a, b = (n if n == "0" else n + tag for n in (a, b))
            out.append(f"C{name}{tag} {a} {b} {farad!r}")

    for a in range(4):
        for b in range(a):
            for n in range(1, len(places)):
                half = run.pair_farad * (places[n] - places[n - 1]) / 2.0
                c(f"n{b}{a}p{n}", sides[a][n - 1][1], sides[b][n - 1][1], half)
                c(f"f{b}{a}p{n}", sides[a][n][0], sides[b][n][0], half)
    for n, short in enumerate(run.shorts):
        at = places.index(short.at)
        r(f"sh{n}", *(sides[k - 1][at][0] for k in short.between), short.ohm)
    far = {c.reaches: nodes[-1][1] for c, nodes in zip(run.conductors, sides)}
    for k, conductor in enumerate(run.conductors, 1):
        socket = run.plugged_to[conductor.reaches - 1]
        r(f"fc{k}", far[conductor.reaches], f"T{socket}", conductor.far_contact_ohm)
    if run.ring_ohm is not None:
        for (a, b), ohm in zip(RING_TERMINALS, run.ring_ohm):
            r(f"ring{a}{b}", f"T{a}", f"T{b}", ohm)
    for n, device in enumerate(run.devices):
        a, b = (far[terminal] for terminal in device.between)
        if device.from_v is None:
            r(f"dv{n}", a, b, device.ohm)
        else:
            r(f"dv{n}", a, b, device.blocks_ohm)
            v, start = f"v({a}{tag},{b}{tag})", device.from_v
            # A short slope in place of the kink would be easier to solve, but another law.
            out.append(f"Bdv{n}{tag} {a}{tag} {b}{tag} I = {v} > {start!r} ? ({v}-{start!r})/{device.ohm!r} : "
                       f"({v} < -{start!r} ? ({v}+{start!r})/{device.ohm!r} : 0)")
    nodes = [node for each in sides for pair in each for node in pair] + ["T1", "T2", "T3", "T4"]
    earth = "0"
    if run.earth_farad is not None and any(0 in s.between for s in run.sources):
        earth = "earth"
        nodes.append(earth)
        out.append(f"Cearth{tag} earth{tag} 0 {run.earth_farad!r}")
    for n, s in enumerate(run.sources):
        ends = {k: sides[k - 1][0][0] for k in range(1, 5)} if s.near else far
        plus, minus = (ends[terminal] if terminal else earth for terminal in s.between)
        whole = minus if minus == "0" else minus + tag
        # What a B source computes is a voltage as well.
        kind = "B" if s.gives.startswith("V=") else "V"
        out.append(f"{kind}fo{n}{tag} fo{n}{tag} {whole} {s.gives}")
        if s.ohm is not None:
            r(f"fo{n}", f"fo{n}", plus, s.ohm)
        else:
            c(f"fo{n}", f"fo{n}", plus, s.farad)
    return nodes


def _conductor(c: Conductor, k: int, places: Sequence[float], r) -> List[Tuple[str, str]]:
    sides: List[Tuple[str, str]] = []
    for n, place in enumerate(places):
        jig_side = f"c{k}p{n}" if n else f"wire{c.post or k}"
        if n:
            r(f"w{k}p{n}", sides[-1][1], jig_side, c.ohm * (place - places[n - 1]))
        far_side = jig_side
        joints = [ohm for at, ohm in c.joints if at == place]
        if c.open_at == place or joints:
            far_side = f"c{k}q{n}"
        if joints and c.open_at != place:
            r(f"j{k}p{n}", jig_side, far_side, sum(joints))
        sides.append((jig_side, far_side))
    return sides
