//! What a scene's values may be.

use runproof_protocol::Post;

use super::super::flexing::FLEXED_MAX;
use super::super::traffic::Traffic;
use super::{
    Contact, Flexed, LeftOn, Moves, Run, Scene, SceneError, Shape, Source, Through, Touch,
};

impl Scene {
    pub(super) fn checked(self) -> Result<Self, SceneError> {
        run(&self.run)?;
        self.left_on.iter().try_for_each(left_on)?;
        self.source.iter().try_for_each(source)?;
        self.touch.iter().try_for_each(touch)?;
        must(self.flexed.len() <= FLEXED_MAX, "flexed", "four at most")?;
        self.flexed.iter().try_for_each(flexed)?;
        must(self.key_out_s > 0.0, "key_out_s", "later than 0 s")?;
        must(self.key_reversed_s >= 0.0, "key_reversed_s", "0 s or later")?;
        must((1.0..=1e3).contains(&self.jig.contact_mohm), "jig.contact_mohm", "1 to 1000 mΩ")?;
        must((1.0..=1e6).contains(&self.jig.earth_pf), "jig.earth_pf", "1 pF to 1 µF")?;
        for celsius in [self.jig.celsius, self.jig.plug_celsius] {
            must((-40.0..=85.0).contains(&celsius), "jig", "-40 to 85 °C")?;
        }
        Ok(self)
    }
}

fn must(holds: bool, key: &'static str, reason: &'static str) -> Result<(), SceneError> {
    if holds { Ok(()) } else { Err(SceneError::Impossible { key, reason }) }
}

fn run(run: &Run) -> Result<(), SceneError> {
    must((0.1..=2_000.0).contains(&run.length_m), "run.length_m", "0.1 to 2000 m")?;
    must((1.0..=1_000.0).contains(&run.ohm_per_km), "run.ohm_per_km", "1 to 1000 Ω/km")?;
    must((-40.0..=105.0).contains(&run.copper_c), "run.copper_c", "-40 to 105 °C")?;
    let warms = (-5.0..=5.0).contains(&run.warms_k_per_min);
    must(warms, "run.warms_k_per_min", "-5 to 5 K a minute")?;
    must((1.0..=1_000.0).contains(&run.pf_per_m), "run.pf_per_m", "1 to 1000 pF/m")?;
    must((0.0..=0.1).contains(&run.sibling_spread), "run.sibling_spread", "0 to 0.1")?;
    must((0.0..=0.1).contains(&run.capacitance_spread), "run.capacitance_spread", "0 to 0.1")?;
    must(is_map(run.clipped_to), "run.clipped_to", "each of 1, 2, 3, 4 once")?;
    must(is_map(run.arrives_at), "run.arrives_at", "each of 1, 2, 3, 4 once")?;
    must(is_map(run.plugged_to), "run.plugged_to", "each of 1, 2, 3, 4 once")?;
    for open in &run.open {
        let reason = "a post, 1 to 4, and a place, 0 (at the jig) to 1";
        must(is_post(open.post) && is_place(open.at), "run.open", reason)?;
    }
    for joint in &run.joint {
        let holds = is_post(joint.post) && is_place(joint.at) && is_ohm(joint.ohm);
        must(holds, "run.joint", "a post, a place 0 to 1, and 1 mΩ to 1 GΩ")?;
    }
    for short in &run.short {
        let holds = is_pair(short.posts) && is_place(short.at) && is_ohm(short.ohm);
        must(holds, "run.short", "two posts, a place 0 to 1, and 1 mΩ to 1 GΩ")?;
    }
    Ok(())
}

fn left_on(device: &LeftOn) -> Result<(), SceneError> {
    let ohms = is_ohm(device.ohm) && is_ohm(device.blocks_ohm);
    must(is_pair(device.between) && ohms, "left_on", "two posts, and 1 mΩ to 1 GΩ")?;
    let volts = device.conducts_from_v.is_none_or(|volts| (0.1..=50.0).contains(&volts));
    must(volts, "left_on.conducts_from_v", "0.1 to 50 V")?;
    must(device.until_s >= 0.0, "left_on.until_s", "0 s or later")
}

fn touch(touch: &Touch) -> Result<(), SceneError> {
    let from_to = 0.0 <= touch.from_s && touch.from_s < touch.until_s && touch.until_s.is_finite();
    let reason = "two terminals, and from 0 s or later until later still";
    must(is_pair(touch.terminals) && from_to, "touch", reason)
}

fn flexed(flexed: &Flexed) -> Result<(), SceneError> {
    let holds = match flexed.of {
        Contact::Conductor { post, ohm } => is_post(post) && is_ohm(ohm),
        Contact::Touch { posts, ohm } => is_pair(posts) && is_ohm(ohm),
    };
    must(holds, "flexed.of", "a post or two, 1 to 4, and 1 mΩ to 1 GΩ")?;
    must(is_place(flexed.at), "flexed.at", "0 (at the jig) to 1")?;
    let times = 0.0 <= flexed.from_s && flexed.from_s < 1e6 && flexed.until_s > flexed.from_s;
    must(times, "flexed.from_s", "0 s to a million, and until later")?;
    let is_ms = |ms: f64| (1e-3..=1e7).contains(&ms);
    let holds = match &flexed.moves {
        Moves::Chatters { rests_ms, away_ms } => is_ms(*rests_ms) && is_ms(*away_ms),
        Moves::Shakes { hertz, away_ms } => {
            (1e-3..=1e3).contains(hertz) && is_ms(*away_ms) && hertz * away_ms < 1e3
        }
        Moves::Creeps { period_s } => (1.0..=1e6).contains(period_s),
        Moves::At(times) => {
            let ends = times.iter().map(|[begins_ms, long_ms]| begins_ms + long_ms);
            let apart = times.iter().skip(1).zip(ends).all(|([begins, _], end)| *begins > end);
            apart && times.iter().all(|[begins, long]| (0.0..=1e9).contains(begins) && is_ms(*long))
        }
    };
    must(holds, "flexed.moves", "times of 1 µs to 3 hours, one after the other")
}

fn source(source: &Source) -> Result<(), SceneError> {
    let [a, b] = source.between;
    let there = [a, b].into_iter().all(|number| number == 0 || is_post(number));
    must(
        there && a != b,
        "source.between",
        "two different terminals, 1 to 4, or one and 0, earth",
    )?;
    must(is_volts(source.volts_rms), "source.volts_rms", "0 to 600 V")?;
    must(is_volts(source.direct_v.abs()), "source.direct_v", "-600 to 600 V")?;
    must((1.0..=1_000.0).contains(&source.hertz), "source.hertz", "1 to 1000 Hz")?;
    must(is_angle(source.phase_degrees), "source.phase_degrees", "-360 to 360")?;
    must((0.0..=1e6).contains(&source.from_s), "source.from_s", "0 s to a million")?;
    for one in &source.harmonic {
        let holds =
            (1..=50).contains(&one.times) && is_volts(one.volts_rms) && is_angle(one.phase_degrees);
        must(holds, "source.harmonic", "1 to 50 times, 0 to 600 V, -360 to 360 degrees")?;
    }
    source.traffic.as_ref().map_or(Ok(()), traffic)?;
    let by_wire = matches!(source.through, Through::Ohm(_));
    must(by_wire || source.traffic.is_none(), "source.traffic", "by wire")?;
    must(by_wire || source.shape == Shape::Sine, "source.shape", "a sine where it couples")?;
    match source.through {
        Through::Ohm(ohm) => {
            must((0.01..=1e9).contains(&ohm), "source.through.ohm", "0.01 Ω to 1 GΩ")
        }
        Through::CoupledPf(pf) => {
            must((0.1..=1e6).contains(&pf), "source.through.coupled_pf", "0.1 pF to 1 µF")
        }
    }
}

fn traffic(traffic: &Traffic) -> Result<(), SceneError> {
    let bits = 1..=100_000;
    must((-50.0..=50.0).contains(&traffic.volts), "source.traffic.volts", "-50 to 50 V")?;
    must((1e2..=1e7).contains(&traffic.baud), "source.traffic.baud", "100 to 10 million")?;
    must(bits.contains(&traffic.packet_bits), "source.traffic.packet_bits", "1 to 100000")?;
    must(traffic.idle_bits <= 100_000, "source.traffic.idle_bits", "0 to 100000")
}

fn is_volts(volts: f64) -> bool {
    (0.0..=600.0).contains(&volts)
}

fn is_angle(degrees: f64) -> bool {
    (-360.0..=360.0).contains(&degrees)
}

fn is_post(number: u8) -> bool {
    Post::from_number(number).is_some()
}

fn is_pair([a, b]: [u8; 2]) -> bool {
    is_post(a) && is_post(b) && a != b
}

fn is_map(mut map: [u8; 4]) -> bool {
    map.sort_unstable();
    map == [1, 2, 3, 4]
}

fn is_place(at: f64) -> bool {
    (0.0..=1.0).contains(&at)
}

fn is_ohm(ohm: f64) -> bool {
    (1e-3..=1e9).contains(&ohm)
}
