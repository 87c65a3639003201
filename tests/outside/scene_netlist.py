"""Turns a simulated run's scene file and a jig's parts into what jig_netlist.py builds netlists from."""

import tomllib
from dataclasses import dataclass
from math import sqrt
from typing import Callable, Dict, List, Optional, Tuple

from jig_netlist import POST, Jig
from run_netlist import COPPER_PER_KELVIN, RING_OHM, Conductor, Device, Run, Short, Source

# The simulated circuit ties every node to ground by 10 pS, so that all have a voltage.
EVERY_NODE_OHM = 1e11
# Where a device conducts from a voltage on and the scene does not say what it is below.
BLOCKS_OHM = 72_000.0
# Where a scene does not say.
PF_PER_M = 35.0
EARTH_PF = 50.0
HERTZ = 60.0
# What is drawn for each jig: what it must be near, and within which part of that (bom.csv's tolerances; what is left is
# what a drawn jig is warmer). A fuse of 10 % beside a resistor of 1 % is 1.5 % of both.
DRAWN = {
    "series_ohm": (4 * [POST["r_k"] + POST["r_fuse"]], 0.017),
    "divider_ratio": (4 * [1.0], 0.0011),
    "ring_ohm": (list(RING_OHM), 0.003),
    "sense_farad": (4 * [POST["c_sense"]], 0.051),
    "reference_farad": (4 * [POST["c_ref"]], 0.011),
}


@dataclass(frozen=True)
class Scene:
    told: Dict

    @staticmethod
    def read(text: str) -> "Scene":
        return Scene(tomllib.loads(text))

    @property
    def sources(self) -> List[Dict]:
        return self.told.get("source", [])

    @property
    def frequencies(self) -> List[float]:
        """Of what alternates, each once."""
        return sorted({s.get("hertz", HERTZ) for s in self.sources if s.get("volts_rms")})

    def plug_in(self, phase: str) -> bool:
        return {"in": True, "out": False, "goes-out": True, "goes-in": phase == "plug"}[self.told["plug"]]

    def run(self, parts: Dict, plug_in: bool, seconds: float, gives: Callable[[Dict], str]) -> Run:
        """The run as it stands so many seconds after the jig's start; `gives` says what a source gives."""
        run = self.told["run"]
        ohm = run["ohm_per_km"] * run["length_m"] / 1e3 * (1.0 + COPPER_PER_KELVIN * (run["copper_c"] - 20.0))
        clipped_to = run.get("clipped_to", [1, 2, 3, 4])
        conductors = []
        for k in range(1, 5):
            opens = [o["at"] for o in run.get("open", []) if o["post"] == k]
            if len(opens) > 1:
                raise ValueError("a conductor that is cut twice cannot be built here")
            reaches = run["arrives_at"][k - 1]
            conductors.append(Conductor(
                ohm * parts["sibling"][k - 1], reaches, parts["far_clip_ohm"][reaches - 1],
                opens[0] if opens else None, clipped_to[k - 1],
                tuple((j["at"], j["ohm"]) for j in run.get("joint", []) if j["post"] == k),
            ))
        devices = tuple(
            Device(_pair(d["between"]), d["ohm"], d.get("conducts_from_v"), d.get("blocks_ohm", BLOCKS_OHM))
            for d in self.told.get("left_on", []) if seconds < d.get("until_s", float("inf")))
        return Run(
            tuple(conductors),
            tuple(parts["ring_ohm"]) if plug_in else None,
            tuple(Short(_pair(s["posts"]), s["at"], s["ohm"]) for s in run.get("short", [])),
            run.get("pf_per_m", PF_PER_M) * 1e-12 * run["length_m"],
            devices,
            tuple(run.get("plugged_to", (1, 2, 3, 4))),
            tuple(_source(s, gives(s)) for s in self.sources if seconds >= s.get("from_s", 0.0)),
            self._earth_farad(),
        )

    def _earth_farad(self) -> Optional[float]:
        jig = self.told.get("jig", {})
        return None if jig.get("earthed", False) else jig.get("earth_pf", EARTH_PF) * 1e-12


def steady_and_phasor(hertz: float) -> Callable[[Dict], str]:
    """What a source of a plain sine gives, with its phasor if it is of this frequency."""
    def gives(source: Dict) -> str:
        own = source.get("hertz", HERTZ) == hertz
        peak_v = source.get("volts_rms", 0.0) * sqrt(2.0) if own else 0.0
        return f"DC {source.get('direct_v', 0.0)!r} AC {peak_v!r} {source.get('phase_degrees', 0.0)!r}"
    return gives


def _source(told: Dict, gives: str) -> Source:
    through, near = told["through"], told.get("end", "far") == "near"
    if "ohm" in through:
        return Source(_pair(told["between"]), gives, ohm=through["ohm"], near=near)
    return Source(_pair(told["between"]), gives, farad=through["coupled_pf"] * 1e-12, near=near)


def _pair(two) -> Tuple[int, int]:
    return two[0], two[1]


def jig(parts: Dict) -> Jig:
    """The front end with these parts."""
    return Jig(
        supply_v=parts["supply_volts"],
        gpio_ohm=tuple(parts["pin_ohm"]),
        series_ohm=tuple(parts["series_ohm"]),  # with its fuse
        relay_ohm=tuple(parts["relay_contact_ohm"]),
        drive_jaw_ohm=tuple(parts["drive_jaw_ohm"]),
        sense_jaw_ohm=tuple(parts["sense_jaw_ohm"]),
        divider_top_ohm=tuple(3.0 * POST["r_top"] * ratio for ratio in parts["divider_ratio"]),
        every_node_ohm=EVERY_NODE_OHM,
        sense_farad=tuple(parts["sense_farad"]),
        drive_farad=tuple(parts["drive_farad"]),
        reference_farad=tuple(parts["reference_farad"]),
        supply_load_ohm=parts["supply_load_ohm"],
    )


def beyond_tolerance(parts: Dict) -> List[str]:
    """Which parts of a drawn jig are not what front-end.cir says they are, more or less."""
    return [f"{name} of the simulated jig is {parts[name]}, by front-end.cir {nominal} within {within:.1%}: make parts.rs or that file right"
            for name, (nominal, within) in DRAWN.items()
            if any(not abs(is_ / should - 1.0) <= within for is_, should in zip(parts[name], nominal))]
