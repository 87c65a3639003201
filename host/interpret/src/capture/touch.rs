//! Two wires that were held together at one end, and how the posts met meanwhile.

use runproof_protocol::{Microseconds, Post};
use serde::{Deserialize, Serialize};

/// One of the run's ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum End {
    /// Where the jig is.
    Near,
    /// Where the end plug goes.
    Far,
}

/// What the jig saw while someone held two wires together.
#[derive(Clone, Debug, PartialEq)]
pub struct Touch {
    /// Where they were held.
    pub end: End,
    /// The terminals that the two came off, numbered as the posts that they belong on.
    pub terminals: [Post; 2],
    /// Between each pair of posts, in the order of [`Post::PAIRS`], in ohms; nothing where no current
    /// was seen.
    pub ohm: [Option<f64>; 6],
    /// When, on the jig's clock.
    pub at: Microseconds,
}
