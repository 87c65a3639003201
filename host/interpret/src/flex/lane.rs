//! A lane: what is known of one conductor, or of one pair.

use runproof_protocol::{Microseconds, Post};
use serde::{Deserialize, Serialize};

/// Whom it is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FlexLaneOf {
    /// The conductor on this post.
    Conductor(Post),
    /// The conductors on these two, the lower number first.
    Pair(Post, Post),
    /// Whom, cannot be known. With the plug in: none carries, so it is out, or both conductors of one side broke. With it out:
    /// all four carry at once, or such as make no pair.
    Untold,
}

/// Bounds of [`FlexLane::durations`].
pub const DURATION_BOUNDS_US: [u64; 5] = [100, 1_000, 10_000, 100_000, 1_000_000];

/// What is known of one conductor, or of one pair.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct FlexLane {
    /// Whom it is of.
    pub of: FlexLaneOf,
    /// How it is now; in a record, how it was at the end.
    pub now: Now,
    /// What the conductor had before it was flexed, where that is known.
    pub baseline_ohm: Option<f64>,
    /// The least by which it was above that while it carried: nothing where no resistance was told.
    pub least_rise_ohm: Option<f64>,
    /// The most.
    pub most_rise_ohm: Option<f64>,
    /// The least between two that touched, where they did for long enough.
    pub least_touch_ohm: Option<f64>,
    /// Breaks, or touches.
    pub count: u64,
    /// The longest of them.
    pub longest_us: u64,
    /// All of them together.
    pub total_us: u64,
    /// How many of them lasted less than each of [`DURATION_BOUNDS_US`] and no less than the one before; at last, longer ones.
    pub durations: [u64; 6],
    /// Steps.
    pub steps: u64,
    /// By how much the largest of them rose.
    pub largest_step_ohm: Option<f64>,
    /// The longest of them.
    pub longest_step_us: u64,
    /// For so long it was known how it is.
    pub watched_us: u64,
    /// It was seen to be as it should be: to carry, or apart.
    pub was_good: bool,
}

/// How a lane is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Now {
    /// The conductor carries.
    Carries {
        /// What it has; nothing where its baseline is not known, or it cannot be told now.
        ohm: Option<f64>,
        /// How much more than before it was flexed.
        rise_ohm: Option<f64>,
    },
    /// The conductor is broken.
    Broken {
        /// Since when.
        #[serde(rename = "since_us")]
        since: Microseconds,
    },
    /// The two are apart.
    Apart,
    /// The two touch.
    Touching {
        /// Since when.
        #[serde(rename = "since_us")]
        since: Microseconds,
    },
    /// It is not known yet, or not at this moment.
    NotKnown,
    /// The two are driven alike at this moment.
    NotWatchedNow,
}

impl FlexLane {
    /// Nothing known yet.
    #[must_use]
    pub const fn new(of: FlexLaneOf) -> Self {
        Self {
            of,
            now: Now::NotKnown,
            baseline_ohm: None,
            least_rise_ohm: None,
            most_rise_ohm: None,
            least_touch_ohm: None,
            count: 0,
            longest_us: 0,
            total_us: 0,
            durations: [0; 6],
            steps: 0,
            largest_step_ohm: None,
            longest_step_us: 0,
            watched_us: 0,
            was_good: false,
        }
    }

    /// The least that the conductor had while it carried, where its baseline is known.
    #[must_use]
    pub fn min_ohm(&self) -> Option<f64> {
        Some(self.baseline_ohm? + self.least_rise_ohm?)
    }

    /// The most.
    #[must_use]
    pub fn max_ohm(&self) -> Option<f64> {
        Some(self.baseline_ohm? + self.most_rise_ohm?)
    }

    /// For so long it was known how it is.
    #[must_use]
    pub fn watched_s(&self) -> f64 {
        self.watched_us as f64 / 1e6
    }

    /// Breaks or touches in each second that it was watched.
    #[must_use]
    pub fn per_second(&self) -> Option<f64> {
        (self.watched_us > 0).then(|| self.count as f64 / self.watched_s())
    }
}
