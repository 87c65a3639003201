//! A mains cable alongside.

use std::f64::consts::TAU;

use rand::RngExt;
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Source, Through};
use runproof_protocol::Post;

use super::logarithmic;
use crate::class::Class;

/// How many of the runs of each class have some.
const SHARE: f64 = 0.1;

/// What couples in, in amperes rms. Two posts that are driven against each other have at most some
/// 1.25 kΩ between them, with the end plug out: so much makes 1 mV there, and a twentieth with it in.
const AMPERES: [f64; 2] = [5e-8, 8e-7];

/// So much makes 1 mV with the end plug in, by some 60 Ω.
const STRONG_AMPERES: [f64; 2] = [8e-7, 16e-6];

/// Mains: volts rms and hertz.
const MAINS: [(f64, f64); 2] = [(120.0, 60.0), (230.0, 50.0)];

pub(super) fn any(class: Class, random: &mut Pcg32) -> Option<Source> {
    let amperes = match class {
        Class::StrongHum => STRONG_AMPERES,
        _ if random.random_bool(SHARE) => AMPERES,
        _ => return None,
    };
    let (volts_rms, hertz) = MAINS[random.random_range(0..2)];
    let (a, b) = Post::PAIRS[random.random_range(0..6)];
    let farads = logarithmic(random, amperes) / (TAU * hertz * volts_rms);
    let through = Through::CoupledPf(farads * 1e12);
    Some(Source::alternating([a.number(), b.number()], volts_rms, hertz, through))
}

/// What couples in, rms, where little is in the way.
pub(super) fn amperes(source: &Source) -> f64 {
    match source.through {
        Through::CoupledPf(pf) => TAU * source.hertz * source.volts_rms * pf * 1e-12,
        Through::Ohm(ohm) => source.volts_rms / ohm,
    }
}
