//! The verdict at the far end: waits until the key is turned over, and lights the lights on its reverse face.

use std::ops::Range;

use runproof_interpret::capture::Ending;
use runproof_interpret::{Glance, JOINED_BELOW_OHM};
use runproof_protocol::{FarLights, Phase, Post, Signs, Tune};

use super::{Ended, Guide, Keys, REST_MICROS, Told};

/// What stands across a pair of lights over what flows through it, as a glance reads that: by the figures of
/// `firmware/jig/far-end.md` 2.4 to 3.2 kΩ, and a glance is within a fifth; with room for a joint. (judgement)
const LIGHTS_OHM: Range<f64> = 1_500.0..6_000.0;

/// The key is turned over when so many glances in a row say so.
const GLANCES: u32 = 2;

/// The jig's lamps are dark while it looks: in between they go twice through their pattern.
const LAMPS_MICROS: u64 = 3_200_000;

/// So often it is shown to whoever leaves the key in: some three quarters of a minute. (judgement)
const TIMES_MAX: u32 = 20;

/// What the lights are to show, and across which contacts, 1–2 and 3–4, they can.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct FarVerdict {
    pub(crate) lights: FarLights,
    pub(crate) pairs: [bool; 2],
}

/// What came of it.
#[derive(Debug)]
pub(crate) enum FarShown {
    /// The lights have shown it.
    Shown,
    /// Nobody turned the key over in time.
    NotTurned,
    /// Something ended it early.
    BrokenOff(Ending),
}

impl FarVerdict {
    /// The run stands as through the lights, where these can be reached, and open else.
    fn is_seen(&self, glance: &Glance) -> bool {
        Post::PAIRS.iter().zip(glance.ohm).all(|((a, b), ohm)| match self.across(*a, *b) {
            Some(pair) if self.pairs[pair] => LIGHTS_OHM.contains(&ohm),
            _ => ohm >= JOINED_BELOW_OHM,
        })
    }

    /// The lights between the conductors of two posts: 0 or 1, if there are any.
    fn across(&self, a: Post, b: Post) -> Option<usize> {
        let pairs = self.lights.posts.chunks_exact(2);
        pairs.into_iter().position(|pair| pair.contains(&a) && pair.contains(&b))
    }
}

impl Guide<'_> {
    /// Looks for `wait_micros` of the jig's time whether the key is turned over, and shows the verdict there
    /// again and again until it is taken out or a key was pressed. Between looks the jig's lamps show `signs`.
    pub(crate) fn show_far(
        &mut self,
        verdict: FarVerdict,
        signs: Signs,
        wait_micros: u64,
        keys: &Keys,
    ) -> FarShown {
        let _pressed_before = self.pressed(keys);
        let signs = Signs { tune: Tune::Silent, ..signs };
        match self.light(verdict, signs, wait_micros, keys) {
            Ok(0) => FarShown::NotTurned,
            Ok(_) => FarShown::Shown,
            Err(Ended) => {
                let ends = [Phase::Glance, Phase::FarLights];
                let last = ends.iter().flat_map(|phase| self.capture.ends(*phase)).last();
                last.map_or(FarShown::NotTurned, |ending| FarShown::BrokenOff(ending.clone()))
            }
        }
    }

    /// How often it was shown.
    fn light(
        &mut self,
        verdict: FarVerdict,
        signs: Signs,
        wait_micros: u64,
        keys: &Keys,
    ) -> Result<u32, Ended> {
        let (mut since, mut seen, mut shown) = (None, 0, 0);
        loop {
            (self.tell)(if shown > 0 { Told::FarLit } else { Told::WaitsForTurnedKey });
            let (glance, at) = self.look()?;
            self.jig.show(signs);
            let is_there = glance.is_some_and(|glance| verdict.is_seen(&glance));
            seen = if is_there { seen + 1 } else { 0 };
            if seen >= GLANCES {
                let ending = self.jig.light_far(verdict.lights);
                self.jig.show(signs);
                if !matches!(ending, Ending::Done { .. }) {
                    self.ended(Phase::FarLights, ending);
                    return Err(Ended);
                }
                shown += 1;
            }
            let since = *since.get_or_insert(at);
            let waited = shown == 0 && at.0.saturating_sub(since.0) >= wait_micros;
            let taken_out = shown > 0 && !is_there;
            if waited || taken_out || shown == TIMES_MAX || self.pressed(keys) {
                return Ok(shown);
            }
            if shown == 0 {
                let rest_micros = if is_there { REST_MICROS } else { LAMPS_MICROS };
                self.until(at.after(rest_micros), Phase::Glance)?;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use runproof_protocol::Lamp;

    use super::*;

    fn verdict(posts: [u8; 4], pairs: [bool; 2]) -> FarVerdict {
        let posts = posts.map(|post| Post::from_number(post).expect("a post"));
        FarVerdict { lights: FarLights { pattern: Lamp::STEADY, posts }, pairs }
    }

    /// 1–2, 1–3, 1–4, 2–3, 2–4, 3–4.
    const OPEN: f64 = f64::INFINITY;
    const LIT: f64 = 2_700.0;

    #[test]
    fn the_lights_are_seen_where_the_conductors_put_them() {
        let straight = Glance { ohm: [LIT, OPEN, OPEN, OPEN, OPEN, LIT] };
        let crossed = Glance { ohm: [OPEN, OPEN, LIT, LIT, OPEN, OPEN] };
        assert!(verdict([1, 2, 3, 4], [true; 2]).is_seen(&straight));
        assert!(verdict([2, 1, 4, 3], [true; 2]).is_seen(&straight));
        assert!(!verdict([1, 2, 3, 4], [true; 2]).is_seen(&crossed));
        assert!(verdict([1, 4, 3, 2], [true; 2]).is_seen(&crossed));
        let one = Glance { ohm: [LIT, OPEN, OPEN, OPEN, OPEN, OPEN] };
        assert!(verdict([1, 2, 3, 4], [true, false]).is_seen(&one));
        assert!(!verdict([1, 2, 3, 4], [true; 2]).is_seen(&one));
    }

    #[test]
    fn neither_plug_nor_open_run_nor_touched_wires_are_the_lights() {
        let verdict = verdict([1, 2, 3, 4], [true; 2]);
        let plug = Glance { ohm: [74.7, 29.5, 58.9, 70.9, 52.6, 39.9] };
        let touched = Glance { ohm: [0.1, OPEN, OPEN, OPEN, OPEN, LIT] };
        let joined = Glance { ohm: [LIT, OPEN, 4_000.0, OPEN, OPEN, LIT] };
        for glance in [plug, Glance::OPEN, touched, joined] {
            assert!(!verdict.is_seen(&glance), "{glance:?}");
        }
    }
}
