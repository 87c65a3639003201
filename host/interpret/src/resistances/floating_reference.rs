//! Post 4 open: the node that all differences are taken against floats, and the converter loads it.

use runproof_protocol::Post;

use crate::capture::JigConstants;
use crate::observations::{Mean, Observations, across_ohm};

/// Two ranges' gains differ by 0.1 % at most (ADS1115, TI SBAS444E, electrical characteristics).
const GAIN_MATCH: f64 = 1e-3;

/// How far an input's impedance may be from its typical value, as a fraction. [judgement]
const INPUT_TOLERANCE: f64 = 0.2;

/// The observations as they would be if the converter's input took nothing from a floating node 4,
/// and the standard uncertainty of that as a fraction of each voltage.
pub(super) fn unloaded(observations: &Observations, jig: &JigConstants) -> (Observations, f64) {
    let load = by_two_ranges(observations).unwrap_or_else(|| typical(observations, jig));
    (corrected(observations, jig, |_| load.factor), load.u)
}

/// The same for the open phase, in which node 4 floats under every pair that it is not of, and no two
/// ranges tell the load of all: by the data sheet's impedances, range by range.
pub(super) fn typically_unloaded(observations: &Observations, jig: &JigConstants) -> Observations {
    corrected(observations, jig, |mean| 1.0 + node_ohm(jig) / across_ohm(mean.range))
}

/// The differences against node 4 where it floats, multiplied with this factor in place of the usual
/// one.
fn corrected(
    observations: &Observations,
    jig: &JigConstants,
    factor: impl Fn(&Mean) -> f64,
) -> Observations {
    let mut corrected = observations.clone();
    for pair in corrected.pairs.iter_mut().filter(|pair| pair.posts.1 != Post::P4) {
        for mean in pair.forward.sense_to_4.iter_mut().chain(&mut pair.reverse.sense_to_4) {
            mean.volts *= factor(mean) / usual_factor(mean, jig);
        }
    }
    corrected
}

/// A floating node has 4/3 of a pull to the other three.
fn node_ohm(jig: &JigConstants) -> f64 {
    jig.sense_ohm + 1.0 / (0.75 / jig.pull_ohm + 1.0 / jig.divider_ohm)
}

/// What a difference must be multiplied with, and its standard uncertainty.
struct Load {
    factor: f64,
    u: f64,
}

/// What the difference of two nodes that do not float is multiplied with anyway.
fn usual_factor(mean: &Mean, jig: &JigConstants) -> f64 {
    1.0 + 2.0 * jig.sense_ohm / across_ohm(mean.range)
}

/// By the data sheet's impedance.
fn typical(observations: &Observations, jig: &JigConstants) -> Load {
    let taken = node_ohm(jig) / across_ohm(observations.pairs[0].forward.sense_to_4[0].range);
    Load { factor: 1.0 + taken, u: INPUT_TOLERANCE * taken / 3.0_f64.sqrt() }
}

/// From the same voltages on two ranges, whose inputs have the impedances Z and Z′: each reads
/// V/(1 + R/Z), so that 1/V follows by extrapolation to no load, whatever R is.
fn by_two_ranges(observations: &Observations) -> Option<Load> {
    let (mut narrow_sum, mut mixed_sum, mut noise_sum) = (0.0, 0.0, 0.0);
    let mut ranges = None;
    for pair in observations.pairs.iter().filter(|pair| pair.posts.1 != Post::P4) {
        let (i, j) = (pair.posts.0.index(), pair.posts.1.index());
        let (narrow, wide) = (pair.forward.sense_to_4, pair.pre_scan?);
        // A pair with nothing between swings too far for the narrow range.
        if narrow[i].range == wide[i].range {
            continue;
        }
        let narrow_v = narrow[i].volts - narrow[j].volts;
        let wide_v = wide[i].volts - wide[j].volts;
        narrow_sum += narrow_v * narrow_v;
        mixed_sum += narrow_v * wide_v;
        noise_sum += narrow_v * narrow_v * (wide[i].variance_v2 + wide[j].variance_v2);
        ranges = Some((narrow[i].range, wide[i].range));
    }
    let (narrow, wide) = ranges?;
    let (narrow_s, wide_s) = (1.0 / across_ohm(narrow), 1.0 / across_ohm(wide));
    if narrow_s <= wide_s || narrow_sum <= 0.0 || mixed_sum <= 0.0 {
        return None;
    }
    let beyond = wide_s / (narrow_s - wide_s);
    let ratio = narrow_sum / mixed_sum;
    let u = f64::hypot(noise_sum.sqrt() / narrow_sum, GAIN_MATCH / 3.0_f64.sqrt());
    Some(Load { factor: 1.0 / (ratio - (1.0 - ratio) * beyond), u: u * (1.0 + beyond) })
}
