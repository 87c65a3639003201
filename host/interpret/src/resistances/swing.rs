//! A pair's swing: what changes when its polarity is turned. Offsets and foreign DC do not.

use runproof_protocol::Post;

use super::currents::{Nodes, into_run_a};
use crate::capture::JigConstants;
use crate::observations::{Observations, Pair};

/// The difference between the two polarities of a pair.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Swing {
    pub(crate) posts: (Post, Post),
    /// Posts against the fourth.
    pub(crate) volts: [f64; 4],
    /// Of these; the fourth is none.
    pub(crate) variance_v2: [f64; 4],
    /// Into the run, by post.
    pub(crate) current_a: [f64; 4],
    /// Of the current from the first post to the second.
    pub(crate) current_variance_a2: f64,
    /// Of the sum of all currents.
    pub(crate) sum_variance_a2: f64,
}

pub(super) fn all(observations: &Observations, jig: &JigConstants) -> [Swing; 6] {
    let gain_ratio = observations.self_calibration.gain_ratio;
    observations.pairs.each_ref().map(|pair| swing(pair, gain_ratio, jig))
}

fn swing(pair: &Pair, gain_ratio: f64, jig: &JigConstants) -> Swing {
    let Pair { posts, forward, reverse, .. } = pair;
    let (forward_v, reverse_v) = (forward.posts_v(jig), reverse.posts_v(jig));
    let posts_v: [f64; 4] = std::array::from_fn(|k| forward_v[k] - reverse_v[k]);
    let drive_v = std::array::from_fn(|side| {
        gain_ratio * (forward.drive[side].volts - reverse.drive[side].volts)
    });
    let nodes = Nodes { driven: *posts, drive_v, posts_v, mid_v: 0.0 };

    let mut variance_v2 = [0.0; 4];
    for (k, variance) in variance_v2.iter_mut().enumerate().take(3) {
        *variance = forward.sense_to_4[k].variance_v2 + reverse.sense_to_4[k].variance_v2;
    }
    let drive_v2: f64 = [forward, reverse]
        .iter()
        .flat_map(|polarity| polarity.drive)
        .map(|mean| mean.variance_v2)
        .sum();
    let sense_v2 = variance_v2[posts.0.index()] + variance_v2[posts.1.index()];
    let sense_4_v2 = forward.sense_4.variance_v2 + reverse.sense_4.variance_v2;
    let series_ohm2 = jig.series_ohm[posts.0.index()] * jig.series_ohm[posts.1.index()];
    Swing {
        posts: *posts,
        volts: posts_v.map(|post_v| post_v - posts_v[3]),
        variance_v2,
        current_a: into_run_a(&nodes, jig),
        // Half the difference of two currents, in which sense node 4 cancels …
        current_variance_a2: (drive_v2 + sense_v2) / (4.0 * series_ohm2),
        // … and their sum, in which it counts twice.
        sum_variance_a2: (drive_v2 + sense_v2 + 4.0 * sense_4_v2) / series_ohm2,
    }
}

impl Swing {
    /// From the first post, through the run, to the second.
    pub(crate) fn through_a(&self) -> f64 {
        (self.current_a[self.posts.0.index()] - self.current_a[self.posts.1.index()]) / 2.0
    }

    /// Voltage over current: between the two posts, if nothing else is.
    pub(crate) fn ohm(&self) -> f64 {
        self.across_v() / self.through_a()
    }

    /// Of [`ohm`](Self::ohm), where the current's relative variance is this.
    pub(super) fn ohm_variance(&self, of_current: f64) -> f64 {
        let [i, j] = [self.posts.0.index(), self.posts.1.index()];
        let volts = (self.variance_v2[i] + self.variance_v2[j]) / self.through_a().powi(2);
        volts + of_current * self.ohm().powi(2)
    }

    /// Standard uncertainty of [`ohm`](Self::ohm), from noise alone.
    pub(crate) fn u_ohm(&self) -> f64 {
        self.ohm_variance(self.current_variance_a2 / self.through_a().powi(2)).sqrt()
    }

    /// The two posts meet, through each other or what is between, by less than this.
    pub(crate) fn meets_below(&self, ohm: f64) -> bool {
        self.through_a() * ohm > self.across_v()
    }

    /// Between the two posts.
    pub(crate) fn across_v(&self) -> f64 {
        self.volts[self.posts.0.index()] - self.volts[self.posts.1.index()]
    }

    /// What all four posts together send into the run: nothing, if nothing is wrong.
    pub(super) fn sum_a(&self) -> f64 {
        self.current_a.iter().sum()
    }
}
