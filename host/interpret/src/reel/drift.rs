//! How two readings of one reel differ, clips, plug and jig the same.
//!
//! What is common to both falls out, if pairs are subtracted before anything is fitted: a conductor by itself is known
//! four times less well, as the fit has to tell it from the plug.

use nalgebra::DVector;
use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::observations::Observations;
use crate::resistances::{self, Connected, PairResistances};

/// The mean of four conductors is a twelfth of all pairs together: each is in three of six.
const PAIRS_PER_CONDUCTOR: f64 = 12.0;

/// Each phase finds the ratio of the two converters' gains anew, and all currents with it; standard uncertainty, as a
/// fraction. [computed, of the simulated board]
const U_GAIN: f64 = 3e-5;

/// Of the mean of all four conductors, in ohms, and its standard uncertainty.
pub(super) fn drift(first: &Capture, second: &Capture) -> Option<(f64, f64)> {
    let (first, second) = (pairs(first)?, pairs(second)?);
    let share = DVector::from_element(first.ohm.len(), 1.0 / PAIRS_PER_CONDUCTOR);
    let noise = &first.covariance_ohm2 + &second.covariance_ohm2;
    let noise_ohm2 = (share.transpose() * noise * &share)[0];
    let gain_ohm = std::f64::consts::SQRT_2 * U_GAIN * first.ohm.dot(&share);
    let drift_ohm = (&second.ohm - &first.ohm).dot(&share);
    drift_ohm.is_finite().then(|| (drift_ohm, (noise_ohm2 + gain_ohm.powi(2)).sqrt()))
}

/// Where all four reach the plug.
fn pairs(reading: &Capture) -> Option<PairResistances> {
    let jig = &reading.head.jig;
    let observations = Observations::of(reading, Phase::Plug).ok()?;
    let swings = resistances::swings(&observations, jig).ok()?;
    match resistances::connected(&swings) {
        Connected::All => resistances::among_all(&swings).ok(),
        _ => None,
    }
}
