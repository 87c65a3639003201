//! What flows into the run, and what each conductor adds to what the ring makes of it.

use nalgebra::{Matrix3, Vector3};
use runproof_protocol::{JigParts, Plug, Range};

use super::slots::Slot;
use crate::observations::across_ohm;

/// Each input, read once: posts 1 to 3 against 4.
pub(super) type Set = [Slot; 3];

/// Jig and plug, by their nominal values.
#[derive(Clone, Debug)]
pub(super) struct Circuit {
    series_ohm: [f64; 4],
    /// What is lost between a post and its sense node is put back by this.
    sense_gain: f64,
    /// The ring's terminals 1 to 3 against 4, by the currents into them.
    ring_ohm: Matrix3<f64>,
}

/// What a set says.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seen {
    /// Into the run.
    pub(super) amps: [f64; 4],
    /// Posts against post 4.
    pub(super) posts_v: [f64; 4],
    /// The same less what the ring makes of the currents: r_i I_i − r_4 I_4.
    pub(super) rest_v: [f64; 4],
}

impl Circuit {
    /// Nothing where no jig and no plug can be like that.
    pub(super) fn of(parts: &JigParts, plug: &Plug) -> Option<Self> {
        let series_ohm = parts.series.map(|part| part.ohms());
        let ring = plug.ring.map(|part| part.ohms());
        let possible = |ohm: &f64| (10.0..=1e3).contains(ohm);
        if !series_ohm.iter().chain(&ring).all(possible) || parts.pull.0 == 0 {
            return None;
        }
        let (sense, pull) = (parts.sense.ohms(), parts.pull.ohms());
        // The pulls join all four sense nodes in a star, so a difference shrinks in proportion.
        let sense_gain = (1.0 + 2.0 * sense / across_ohm(Range::V4)) * (1.0 + sense / pull);
        let [g13, g34, g42, g21] = ring.map(|ohm| 1.0 / ohm);
        #[rustfmt::skip]
        let siemens = Matrix3::new(
            g13 + g21, -g21,       -g13,
            -g21,      g21 + g42,  0.0,
            -g13,      0.0,        g13 + g34,
        );
        Some(Self { series_ohm, sense_gain, ring_ohm: siemens.try_inverse()? })
    }

    /// G_i − G_4 less P_i − P_4 is R_i I_i − R_4 I_4, and all currents together are none.
    pub(super) fn seen(&self, set: &Set) -> Seen {
        let [r1, r2, r3, r4] = self.series_ohm;
        let posts = Vector3::from_fn(|n, _| set[n].sense_v * self.sense_gain);
        let falls = Vector3::from_fn(|n, _| set[n].drive_v - posts[n]);
        let over = Vector3::new(1.0 / r1, 1.0 / r2, 1.0 / r3);
        let i4 = -falls.dot(&over) / (1.0 + r4 * over.sum());
        let amps = (falls.add_scalar(r4 * i4)).component_mul(&over);
        let rest = posts - self.ring_ohm * amps;
        let with_4 = |three: &Vector3<f64>, four| [three[0], three[1], three[2], four];
        Seen { amps: with_4(&amps, i4), posts_v: with_4(&posts, 0.0), rest_v: with_4(&rest, 0.0) }
    }

    /// Between two posts that touch, no plug in: nothing else flows.
    pub(super) fn between_ohm(&self, seen: &Seen, a: usize, b: usize) -> f64 {
        let amps = (seen.amps[a] - seen.amps[b]) / 2.0;
        (seen.posts_v[a] - seen.posts_v[b]) / amps
    }
}

/// The catcher's window begins 0.7 V from the rail, which is 1.2 mA in a drive of 588 Ω; whoever has this carries,
const CARRIES_A: f64 = 1.6e-3;

/// and whoever has less than this does not.
const CARRIES_NOT_A: f64 = 0.7e-3;

impl Seen {
    /// Whether each post carries, where the converters leave no doubt.
    pub(super) fn carry(&self) -> [Option<bool>; 4] {
        self.amps.map(|amps| match amps.abs() {
            amps if amps > CARRIES_A => Some(true),
            amps if amps < CARRIES_NOT_A => Some(false),
            _ => None,
        })
    }
}
