//! What is known before a watch begins.

use runproof_protocol::{JigParts, Phase, Plug};

/// What is known before a watch begins.
#[derive(Clone, Debug, PartialEq)]
pub struct FlexSetup {
    /// Which of the four phases in which a run is flexed.
    pub phase: Phase,
    /// The jig's.
    pub parts: JigParts,
    /// The end plug's.
    pub plug: Plug,
    /// What each conductor had before, by a plug phase that was judged; by post. Without it only changes are told.
    pub baseline_ohm: [Option<f64>; 4],
    /// A conductor that rises by so much is an event; [`STEP_OHM`](Self::STEP_OHM) unless somebody chose.
    pub step_ohm: f64,
}

impl FlexSetup {
    /// An ohm: twenty times what the converters' noise makes of it. (judgement)
    pub const STEP_OHM: f64 = 1.0;
}
