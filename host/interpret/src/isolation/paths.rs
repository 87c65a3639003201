//! The path between each two posts, from pairs or leakage, whichever tells it better.

use runproof_protocol::Post;

use super::joined::SHORT_MAX_OHM;
use super::leakage::Leak;
use crate::capture::JigConstants;
use crate::observations::Pair;
use crate::resistances::Swing;

/// A path up to this is read from the pairs where it is the only one of its two posts. The current is
/// read across a series resistor, of which the converter's load on a floating node leaves less to
/// be read the higher the path.
pub(super) const PAIRS_MAX_OHM: f64 = 2_000.0;

/// What the load of an input on a floating node may differ from its typical value. [judgement]
const INPUT_U: f64 = 0.007;

/// Pairs and leakage may differ by this fraction, and by what two inputs' gains differ (0.1 %, ADS1115,
/// TI SBAS444E) of the driven post's voltage, before it is no plain resistance. [judgement]
const DIFFER_MAX: f64 = 0.1;
const GAIN_MATCH: f64 = 1e-3;

/// Where they may differ by more than this, they are not compared.
const COMPARED_WITHIN: f64 = 0.3;

/// No more is claimed than this, beyond it, "at least".
/// [judgement]
pub(crate) const OHM_MAX: f64 = 9e6;

/// What joins two posts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Path {
    pub(crate) posts: (Post, Post),
    /// So much, or at least so much.
    pub(crate) ohm: f64,
    pub(crate) u_ohm: f64,
    pub(crate) at_least: bool,
    /// It was read from the pairs.
    pub(crate) by_pairs: bool,
    /// Pairs and leakage tell the same.
    pub(crate) is_plain: bool,
}

impl Path {
    pub(crate) fn is_short(&self) -> bool {
        !self.at_least && self.ohm < SHORT_MAX_OHM
    }
}

/// Repeats that differ by no more leave a mean that is off by half of it at most, by hum that two repeats
/// meet at unlike phases. What has nothing between it would have to be off by 0.6 V to look like
/// 1 kΩ. [computed]
const SPREAD_MAX_V: f64 = 0.4;

/// Of each pair that is joined by metal, whatever scatters its readings; at least nothing, of others.
pub(super) fn shorts_alone<'a>(pairs: impl Iterator<Item = (&'a Swing, &'a Pair)>) -> [Path; 6] {
    let paths: Vec<Path> = pairs
        .map(|(swing, pair)| {
            let spread_v = pair.forward.spread_v().max(pair.reverse.spread_v());
            let is_short = swing.meets_below(SHORT_MAX_OHM) && spread_v <= SPREAD_MAX_V;
            Path {
                posts: swing.posts,
                ohm: if is_short { swing.ohm().max(0.0) } else { 0.0 },
                u_ohm: spread_v / 2.0 / swing.through_a(),
                at_least: !is_short,
                by_pairs: true,
                is_plain: true,
            }
        })
        .collect();
    std::array::from_fn(|n| paths[n])
}

pub(super) fn of(swings: &[Swing; 6], leaks: &[Leak; 6], jig: &JigConstants) -> [Path; 6] {
    let scale_u = f64::hypot(jig.series_tolerance / 3.0_f64.sqrt(), INPUT_U);
    std::array::from_fn(|n| {
        let (swing, leak) = (&swings[n], &leaks[n]);
        let pair_ohm = swing.ohm();
        let joined = swing.meets_below(PAIRS_MAX_OHM);
        let alone = !swings.iter().enumerate().any(|(other, one)| {
            other != n && one.meets_below(PAIRS_MAX_OHM) && shares_a_post(one.posts, swing.posts)
        });
        if joined && (alone || pair_ohm < SHORT_MAX_OHM) {
            let is_plain = !alone || tells_the_same(pair_ohm, leak, jig);
            let u_ohm = swing.u_ohm().hypot(scale_u * pair_ohm);
            let posts = swing.posts;
            return Path { posts, ohm: pair_ohm, u_ohm, at_least: false, by_pairs: true, is_plain };
        }
        by_leakage(swing.posts, leak, jig)
    })
}

fn shares_a_post(a: (Post, Post), b: (Post, Post)) -> bool {
    a.0 == b.0 || a.0 == b.1 || a.1 == b.0 || a.1 == b.1
}

/// How far the leakage step's reading of so good a path may be off, as a fraction.
fn leak_u(ohm: f64, jig: &JigConstants) -> f64 {
    GAIN_MATCH * (ohm + jig.pull_ohm) / ohm.max(1e-3)
}

fn tells_the_same(pair_ohm: f64, leak: &Leak, jig: &JigConstants) -> bool {
    let allowed = DIFFER_MAX + leak_u(pair_ohm, jig);
    allowed >= COMPARED_WITHIN || (leak.siemens * pair_ohm - 1.0).abs() <= allowed
}

fn by_leakage(posts: (Post, Post), leak: &Leak, jig: &JigConstants) -> Path {
    let most_siemens = leak.siemens.max(0.0) + 2.0 * leak.u_siemens;
    let at_least = !(most_siemens > 1.0 / OHM_MAX && leak.siemens > 2.0 * leak.u_siemens);
    if at_least {
        let ohm = (1.0 / most_siemens).min(OHM_MAX);
        return Path { posts, ohm, u_ohm: 0.0, at_least, by_pairs: false, is_plain: true };
    }
    let ohm = 1.0 / leak.siemens;
    let u_ohm = ohm * f64::hypot(leak.u_siemens / leak.siemens, leak_u(ohm, jig));
    Path { posts, ohm, u_ohm, at_least, by_pairs: false, is_plain: true }
}
