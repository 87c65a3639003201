//! A mains cable alongside.

use std::f64::consts::TAU;

use rand::RngExt;
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Foreign, Source};
use runproof_protocol::Post;

use super::logarithmic;

/// How many runs have one.
const SHARE: f64 = 0.1;

/// What couples in, in amperes rms. With the end plug in no two posts have more than some 60 Ω between
/// them, so that the most makes 1 mV.
const AMPERES: [f64; 2] = [1e-7, 16e-6];

/// Mains: volts rms and hertz.
const MAINS: [(f64, f64); 2] = [(120.0, 60.0), (230.0, 50.0)];

pub(super) fn any(random: &mut Pcg32) -> Option<Foreign> {
    if !random.random_bool(SHARE) {
        return None;
    }
    let (volts_rms, hertz) = MAINS[random.random_range(0..2)];
    let (a, b) = Post::PAIRS[random.random_range(0..6)];
    let farads = logarithmic(random, AMPERES) / (TAU * hertz * volts_rms);
    Some(Foreign {
        between: [a.number(), b.number()],
        volts_rms,
        hertz,
        direct_v: 0.0,
        source: Source::CoupledPf(farads * 1e12),
        from_s: 0.0,
    })
}

/// What couples in, rms, where little is in the way.
pub(super) fn amperes(foreign: &Foreign) -> f64 {
    match foreign.source {
        Source::CoupledPf(pf) => TAU * foreign.hertz * foreign.volts_rms * pf * 1e-12,
        Source::Ohm(ohm) => foreign.volts_rms / ohm,
    }
}
