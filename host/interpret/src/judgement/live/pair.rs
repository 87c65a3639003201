//! The data pair as the jig saw it.

use runproof_protocol::Post;
use serde::{Deserialize, Serialize};

use super::{LiveLimit, LiveReason, Measured};
use crate::judgement::{Verdict, post_number};

/// Data+ against data−.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LivePair {
    /// The post of data+, then that of data−.
    #[serde(serialize_with = "post_number::pair")]
    pub posts: [Post; 2],
    /// Mean of data+ against data−. While someone sends, what it is between messages; where the pair never rests, the mean of
    /// what is sent.
    pub bias_v: Option<Measured>,
    /// The same, with 47 kΩ across.
    pub loaded_bias_v: Option<Measured>,
    /// Which way round.
    pub sign: PairSign,
    /// Whether someone sends.
    pub activity: Activity,
    /// What is on the pair beyond bias and mains: standard deviation.
    pub spread_v: Option<f64>,
    /// Someone sends, and the bias was read between two messages.
    pub between_messages: bool,
    /// Nearer to the receiver's threshold than this nothing is decided: twice the uncertainty, at least 15 mV, and without a fresh
    /// zero 20 mV more. None where there is no threshold, or no bias.
    pub decided_beyond_v: Option<f64>,
    /// The range that it is held to while nothing is sent.
    pub limits: Vec<LiveLimit>,
    /// Of the pair alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: LiveReason,
}

/// Which way round the pair is, as a receiver sees it while nothing is sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PairSign {
    /// Data+ is above data− by more than a receiver needs, whatever the uncertainty.
    Right,
    /// Below, likewise.
    Reversed,
    /// Between, or too close to the threshold.
    Undecided,
}

/// Whether someone sends on the pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Activity {
    /// Nobody, while the jig looked.
    Idle,
    /// Someone.
    Busy,
    /// Not told.
    Unknown,
}
