"""Runs that the simulated circuit and ngspice are both given: one of each kind, and random ones."""

import random
from typing import Dict, Iterator, List, Tuple

Fields = Dict[str, object]


def scene(about: str, run: Fields, plug: str = "goes-in", left_on: Tuple[Fields, ...] = (),
          source: Tuple[Fields, ...] = (), jig: Fields = None) -> str:
    """A scene file."""
    whole = {"length_m": 30.0, "ohm_per_km": 20.95, "copper_c": 25.0, "arrives_at": [1, 2, 3, 4], **run}
    lines = [f'about = "{about}"', f'plug = "{plug}"', "[run]", *_fields(whole)]
    for key in ("open", "joint", "short"):
        for one in whole.get(key, ()):
            lines += [f"[[run.{key}]]", *_fields(one)]
    for device in left_on:
        lines += ["[[left_on]]", *_fields(device)]
    for one in source:
        lines += ["[[source]]", *_fields(one)]
    if jig is not None:
        lines += ["[jig]", *_fields(jig)]
    return "\n".join(lines) + "\n"


def _fields(fields: Fields) -> List[str]:
    def told(value) -> str:
        return "{ " + ", ".join(f"{k} = {v}" for k, v in value.items()) + " }" if isinstance(value, dict) else str(value)
    return [f"{k} = {told(v)}" for k, v in fields.items() if not isinstance(v, tuple)]


def of_each_kind() -> Iterator[Tuple[str, str]]:
    """(name, scene file)."""
    def one(name, run, **more):
        return name, scene(name, run, **more)

    yield one("good", {})
    yield one("one-metre", {"length_m": 1.0, "ohm_per_km": 13.2, "copper_c": -20.0})
    yield one("long-and-warm", {"length_m": 400.0, "ohm_per_km": 84.2, "copper_c": 60.0, "pf_per_m": 120.0})
    yield one("reversed", {"arrives_at": [2, 1, 3, 4]})
    yield one("clipped-wrong", {"clipped_to": [3, 1, 4, 2]})
    yield one("clipped-and-crossed", {"clipped_to": [4, 2, 1, 3], "arrives_at": [3, 4, 2, 1]})
    yield one("plugged-wrong", {"plugged_to": [2, 4, 1, 3]})
    yield one("crossed-at-three-places", {"clipped_to": [4, 2, 1, 3], "arrives_at": [3, 4, 2, 1], "plugged_to": [2, 3, 4, 1]})
    yield one("crossed-with-a-device", {"arrives_at": [3, 4, 2, 1], "plugged_to": [2, 1, 3, 4]},
              left_on=({"between": [1, 3], "ohm": 5_600.0},))
    yield one("plug-always-in", {}, plug="in")
    yield one("no-plug", {}, plug="out")
    yield one("open", {"open": ({"post": 4, "at": 0.4},)})
    yield one("open-at-the-jig", {"open": ({"post": 1, "at": 0.0},)})
    yield one("two-opens", {"open": ({"post": 2, "at": 1.0}, {"post": 3, "at": 0.1})})
    yield one("joints", {"joint": ({"post": 3, "at": 0.25, "ohm": 4.7}, {"post": 1, "at": 1.0, "ohm": 220.0},
                                   {"post": 3, "at": 0.75, "ohm": 0.3})})
    yield one("short", {"short": ({"posts": [1, 2], "at": 0.37, "ohm": 0.8},)})
    yield one("shorts", {"short": ({"posts": [2, 3], "at": 0.0, "ohm": 0.05}, {"posts": [4, 1], "at": 1.0, "ohm": 60.0})})
    yield one("leaks", {"short": ({"posts": [1, 4], "at": 0.6, "ohm": 4e4}, {"posts": [2, 3], "at": 0.9, "ohm": 9e6})})
    yield one("short-behind-an-open", {"open": ({"post": 2, "at": 0.3},), "short": ({"posts": [2, 4], "at": 0.8, "ohm": 1.5},)})
    yield one("resistive-device", {}, left_on=({"between": [3, 4], "ohm": 12_000.0},))
    yield one("bridge", {}, left_on=({"between": [4, 3], "ohm": 60.0, "conducts_from_v": 1.3},))
    yield one("bridges", {"short": ({"posts": [1, 3], "at": 0.5, "ohm": 5_000.0},)}, left_on=(
        {"between": [3, 4], "ohm": 250.0, "conducts_from_v": 0.7, "blocks_ohm": 1e6},
        {"between": [1, 2], "ohm": 900.0, "conducts_from_v": 0.6, "blocks_ohm": 3e5}))
    yield one("coupled", {"length_m": 80.0},
              source=({"between": [1, 3], "volts_rms": 120.0, "hertz": 60.0, "through": {"coupled_pf": 2_000.0}},))
    yield one("coupled-into-an-open", {"length_m": 150.0, "open": ({"post": 2, "at": 0.5},)},
              source=({"between": [2, 4], "volts_rms": 230.0, "hertz": 50.0, "through": {"coupled_pf": 700.0}},))
    yield one("coupled-onto-a-bridge", {}, left_on=({"between": [4, 3], "ohm": 60.0, "conducts_from_v": 0.4},),
              source=({"between": [4, 2], "volts_rms": 24.0, "hertz": 60.0, "through": {"coupled_pf": 4_700.0}},))
    yield one("powered", {}, plug="out",
              source=({"between": [4, 3], "volts_rms": 24.0, "hertz": 60.0, "through": {"ohm": 1.5}},))
    yield one("powered-direct", {"arrives_at": [1, 2, 4, 3]},
              source=({"between": [1, 2], "volts_rms": 0.5, "hertz": 50.0, "direct_v": 12.0, "through": {"ohm": 100.0}},))
    yield one("two-sources", {}, plug="out", source=(
        {"between": [4, 3], "volts_rms": 24.0, "hertz": 60.0, "through": {"ohm": 1.5}},
        {"between": [2, 3], "volts_rms": 9.0, "hertz": 57.3, "phase_degrees": 40.0, "end": '"near"', "through": {"ohm": 33.0}},
        {"between": [1, 3], "direct_v": 5.0, "through": {"ohm": 430.0}}))
    yield one("to-earth", {"clipped_to": [3, 1, 4, 2]}, plug="out", left_on=({"between": [1, 3], "ohm": 430.0},), source=(
        {"between": [3, 0], "volts_rms": 120.0, "hertz": 60.0, "through": {"ohm": 1.0}},
        {"between": [0, 2], "volts_rms": 230.0, "hertz": 50.0, "end": '"near"', "through": {"coupled_pf": 80.0}}))
    yield one("to-earth-earthed", {}, plug="out", jig={"earthed": "true"}, source=(
        {"between": [3, 0], "volts_rms": 120.0, "hertz": 60.0, "through": {"ohm": 1e3}},))


def of_all_times() -> Iterator[Tuple[str, str, float]]:
    """(name, scene file, seconds since the jig's start): what changes by itself, before and after."""
    text = scene(
        "changes", {}, left_on=({"between": [1, 2], "ohm": 330.0, "until_s": 2.0},),
        source=({"between": [3, 4], "volts_rms": 3.0, "hertz": 50.0, "through": {"ohm": 47.0}, "from_s": 1.0},))
    for seconds in (0.5, 1.5, 2.5):
        yield f"changes-at-{seconds}s", text, seconds


def at_random(seed: int) -> Tuple[str, str]:
    """A run with any map at the clips, in the run and at the plug, and up to three faults."""
    draw = random.Random(seed)

    def place() -> float:
        return draw.choice((0.0, 1.0, round(draw.random(), 3)))

    def pair() -> List[int]:
        return draw.sample((1, 2, 3, 4), 2)

    def ohm(low: float, high: float) -> float:
        return round(low * (high / low) ** draw.random(), 3)

    run: Fields = {
        "length_m": ohm(0.5, 500.0), "ohm_per_km": ohm(13.0, 90.0), "copper_c": round(draw.uniform(-20.0, 60.0), 1),
        "pf_per_m": ohm(10.0, 200.0), "clipped_to": draw.sample((1, 2, 3, 4), 4), "arrives_at": draw.sample((1, 2, 3, 4), 4),
        "plugged_to": draw.sample((1, 2, 3, 4), 4),
    }
    if draw.random() < 0.4:
        run["open"] = ({"post": draw.randint(1, 4), "at": place()},)
    run["joint"] = tuple({"post": draw.randint(1, 4), "at": place(), "ohm": ohm(0.05, 2e3)} for _ in range(draw.randint(0, 2)))
    run["short"] = tuple({"posts": pair(), "at": place(), "ohm": ohm(0.05, 1e7)} for _ in range(draw.randint(0, 2)))
    left_on, source = (), ()
    if draw.random() < 0.4:
        left_on = ({"between": pair(), "ohm": ohm(20.0, 1e5)},)
        if draw.random() < 0.5:
            left_on[0]["conducts_from_v"] = round(draw.uniform(0.3, 2.5), 2)
    if draw.random() < 0.5:
        through = {"ohm": ohm(0.5, 1e5)} if draw.random() < 0.5 else {"coupled_pf": ohm(50.0, 2e4)}
        source = ({"between": pair(), "volts_rms": ohm(0.1, 240.0), "hertz": draw.choice((50.0, 60.0)), "through": through},)
    return f"random-{seed}", scene(f"random {seed}", run, left_on=left_on, source=source)
