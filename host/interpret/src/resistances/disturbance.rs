//! Is there only a run between the posts? A run is steady and reads the same in both polarities.

use runproof_protocol::Post;

use super::currents::{Nodes, into_run_a};
use crate::capture::JigConstants;
use crate::judgement::{FindingKind, Unit};
use crate::observations::{Observations, Pair, Polarity, SelfCalibration};
use crate::obstacle::Obstacle;

/// More DC than this between two conductors comes from something that is connected. [judgement]
const FOREIGN_MAX_V: f64 = 2e-3;

/// The two polarities of a resistance differ by no more than twice this fraction. [judgement]
const ONE_SIDED_MAX: f64 = 0.01;

/// The driven posts' own difference is held to less: 3 steps of offset on either channel, typical (ADS1115,
/// TI SBAS444E, electrical characteristics, ±4.096 V).
const OFFSETS_MAX_V: f64 = 0.8e-3;

pub(super) fn check(
    observations: &Observations,
    jig: &JigConstants,
    posts: &[Post],
) -> Result<(), Obstacle> {
    let among = |pair: &&Pair| posts.contains(&pair.posts.0) && posts.contains(&pair.posts.1);
    let calibration = &observations.self_calibration;
    let scattered: Vec<Post> =
        posts.iter().copied().filter(|post| !calibration.steady[post.index()]).collect();
    if !scattered.is_empty() {
        return Err(Obstacle::new(FindingKind::Unsteady).posts(scattered));
    }
    for pair in observations.pairs.iter().filter(among) {
        let both = [pair.posts.0, pair.posts.1];
        if !(pair.forward.steady() && pair.reverse.steady()) {
            return Err(Obstacle::new(FindingKind::Unsteady).posts(both));
        }
        let [first, second] = both.map(Post::index);
        let forward_v = pair.forward.posts_v(jig);
        let one_sided_v = ONE_SIDED_MAX * (forward_v[first] - forward_v[second]).abs();
        let foreign_v = foreign_v(pair, calibration, jig);
        for post in posts {
            let post_v = (foreign_v[post.index()] - foreign_v[first]).abs();
            let least_v = if post.index() == second { OFFSETS_MAX_V } else { FOREIGN_MAX_V };
            if !(post_v <= least_v.max(one_sided_v)) {
                return Err(Obstacle::new(FindingKind::SomethingConnected)
                    .posts(both)
                    .value(post_v, Unit::Volt));
            }
        }
    }
    Ok(())
}

/// The part of the voltages that does not turn with the current: V± = Z I± + e, solved for e.
fn foreign_v(pair: &Pair, calibration: &SelfCalibration, jig: &JigConstants) -> [f64; 4] {
    let forward_a = through_a(pair, &pair.forward, calibration, jig);
    let reverse_a = through_a(pair, &pair.reverse, calibration, jig);
    let to_4_v = |polarity: &Polarity| {
        let posts_v = polarity.posts_v(jig);
        posts_v.map(|post_v| post_v - posts_v[3])
    };
    let (forward_v, reverse_v) = (to_4_v(&pair.forward), to_4_v(&pair.reverse));
    std::array::from_fn(|k| {
        (reverse_v[k] * forward_a - forward_v[k] * reverse_a) / (forward_a - reverse_a)
    })
}

fn through_a(
    pair: &Pair,
    polarity: &Polarity,
    calibration: &SelfCalibration,
    jig: &JigConstants,
) -> f64 {
    let posts_v = polarity.posts_v(jig);
    let [i, j] = [pair.posts.0.index(), pair.posts.1.index()];
    let drive_v = [(0, i), (1, j)].map(|(side, k)| {
        calibration.gain_ratio * polarity.drive[side].volts + calibration.offset_v[k]
    });
    let mid_v = (posts_v[i] + posts_v[j]) / 2.0;
    let current_a = into_run_a(&Nodes { driven: pair.posts, drive_v, posts_v, mid_v }, jig);
    (current_a[i] - current_a[j]) / 2.0
}
