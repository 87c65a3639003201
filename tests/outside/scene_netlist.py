"""Turns a simulated run's scene file and a jig's parts into what jig_netlist.py builds netlists from."""

import tomllib
from dataclasses import dataclass
from math import sqrt
from typing import Dict, List, Tuple

from jig_netlist import POST, Jig
from run_netlist import COPPER_PER_KELVIN, RING_OHM, Conductor, Device, Foreign, Run, Short

# The simulated circuit ties every node to ground by 10 pS, so that all have a voltage.
EVERY_NODE_OHM = 1e11
# Where a device conducts from a voltage on and the scene does not say what it is below.
BLOCKS_OHM = 72_000.0
# Where a scene does not say.
PF_PER_M = 35.0
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
    def hertz(self) -> float:
        """Of what alternates; 0: nothing does."""
        return self.told["foreign"]["hertz"] if "foreign" in self.told else 0.0

    def plug_in(self, phase: str) -> bool:
        return {"in": True, "out": False, "goes-in": phase == "plug"}[self.told["plug"]]

    def run(self, parts: Dict, plug_in: bool, seconds: float) -> Run:
        """The run as it stands so many seconds after the jig's start."""
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
            self._foreign(seconds),
            tuple(run.get("plugged_to", (1, 2, 3, 4))),
        )

    def _foreign(self, seconds: float):
        f = self.told.get("foreign")
        if f is None or seconds < f.get("from_s", 0.0):
            return None
        peak_v, source = f["volts_rms"] * sqrt(2.0), f["source"]
        if "ohm" in source:
            return Foreign(_pair(f["between"]), f.get("direct_v", 0.0), peak_v, ohm=source["ohm"])
        return Foreign(_pair(f["between"]), f.get("direct_v", 0.0), peak_v, farad=source["coupled_pf"] * 1e-12)


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
    )


def beyond_tolerance(parts: Dict) -> List[str]:
    """Which parts of a drawn jig are not what front-end.cir says they are, more or less."""
    return [f"{name} of the simulated jig is {parts[name]}, by front-end.cir {nominal} within {within:.1%}: make parts.rs or that file right"
            for name, (nominal, within) in DRAWN.items()
            if any(not abs(is_ / should - 1.0) <= within for is_, should in zip(parts[name], nominal))]
