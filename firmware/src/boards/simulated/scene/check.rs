//! What a scene's values may be.

use runproof_protocol::Post;

use super::{Foreign, LeftOn, Run, Scene, SceneError, Source, Touch};

impl Scene {
    pub(super) fn checked(self) -> Result<Self, SceneError> {
        run(&self.run)?;
        self.left_on.iter().try_for_each(left_on)?;
        self.foreign.iter().try_for_each(foreign)?;
        self.touch.iter().try_for_each(touch)?;
        must(self.key_out_s > 0.0, "key_out_s", "later than 0 s")?;
        must(self.key_reversed_s >= 0.0, "key_reversed_s", "0 s or later")?;
        must((1.0..=1e3).contains(&self.jig.contact_mohm), "jig.contact_mohm", "1 to 1000 mΩ")?;
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

fn foreign(foreign: &Foreign) -> Result<(), SceneError> {
    must(is_pair(foreign.between), "foreign.between", "two different posts, 1 to 4")?;
    must((0.0..=600.0).contains(&foreign.volts_rms), "foreign.volts_rms", "0 to 600 V")?;
    must((-600.0..=600.0).contains(&foreign.direct_v), "foreign.direct_v", "-600 to 600 V")?;
    must((1.0..=1_000.0).contains(&foreign.hertz), "foreign.hertz", "1 to 1000 Hz")?;
    must((0.0..=1e6).contains(&foreign.from_s), "foreign.from_s", "0 s to a million")?;
    match foreign.source {
        Source::Ohm(ohm) => {
            must((0.01..=1e9).contains(&ohm), "foreign.source.ohm", "0.01 Ω to 1 GΩ")
        }
        Source::CoupledPf(pf) => {
            must((0.1..=1e6).contains(&pf), "foreign.source.coupled_pf", "0.1 pF to 1 µF")
        }
    }
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
