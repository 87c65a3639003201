//! Post 4 open: the node that all differences are taken against floats, and the converter loads it.

use runproof_protocol::Post;

use crate::capture::JigConstants;
use crate::observations::{Observations, across_ohm};

/// Two ranges' gains differ by 0.1 % at most (the same table).
const GAIN_MATCH: f64 = 1e-3;

/// A correction by a factor, with its standard uncertainty.
#[derive(Clone, Copy, Debug)]
pub(super) struct Correction {
    pub(super) factor: f64,
    pub(super) u: f64,
}

/// What the voltages between posts 1–3 must be multiplied with.
///
/// A floating node has 4/3 of a pull to the other three, and the input's Z to the node that is
/// read: of each difference V there is V (1 − R/Z). Two ranges have two Z; from both follows what
/// there would be without load.
pub(super) fn correction(observations: &Observations, jig: &JigConstants) -> Correction {
    two_ranges(observations).unwrap_or_else(|| {
        let float_ohm = 1.0 / (0.75 / jig.pull_ohm + 1.0 / jig.divider_ohm);
        let range = observations.pairs[0].forward.sense_to_4[0].range;
        let half = float_ohm / across_ohm(range) / 2.0;
        // Nothing says how much the input really loads: anything up to twice this.
        Correction { factor: 1.0 + half, u: half / 3.0_f64.sqrt() }
    })
}

fn two_ranges(observations: &Observations) -> Option<Correction> {
    let (mut narrow_sum, mut mixed_sum, mut noise_sum) = (0.0, 0.0, 0.0);
    let mut ranges = None;
    for pair in &observations.pairs {
        if pair.posts.1 == Post::P4 {
            continue;
        }
        let (i, j) = (pair.posts.0.index(), pair.posts.1.index());
        let (narrow, wide) = (pair.forward.sense_to_4, pair.pre_scan?);
        let narrow_v = narrow[i].volts - narrow[j].volts;
        let wide_v = wide[i].volts - wide[j].volts;
        narrow_sum += narrow_v * narrow_v;
        mixed_sum += narrow_v * wide_v;
        noise_sum += narrow_v * narrow_v * (wide[i].variance_v2 + wide[j].variance_v2);
        ranges = Some((narrow[i].range, wide[i].range));
    }
    let (narrow, wide) = ranges?;
    let (narrow_s, wide_s) = (1.0 / across_ohm(narrow), 1.0 / across_ohm(wide));
    if narrow_s <= wide_s || narrow_sum <= 0.0 {
        return None;
    }
    let beyond = wide_s / (narrow_s - wide_s);
    let ratio = mixed_sum / narrow_sum;
    let u = f64::hypot(noise_sum.sqrt() / narrow_sum, GAIN_MATCH / 3.0_f64.sqrt());
    Some(Correction { factor: ratio + (ratio - 1.0) * beyond, u: u * (1.0 + beyond) })
}
