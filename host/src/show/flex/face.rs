//! What shows a watch while it goes on: lines, JSON, or a screen.

use std::io;

use runproof_interpret::flex::{FlexLane, FlexNews};
use runproof_protocol::Microseconds;

/// When, since the watch began: the jig's clock may begin anew meanwhile.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Clock {
    /// What the jig's clock showed, once it has begun.
    pub(crate) from: Option<Microseconds>,
    /// What came before.
    pub(crate) before_s: f64,
}

impl Clock {
    pub(crate) fn s(&self, at: Microseconds) -> f64 {
        let since = self.from.map_or(0, |from| at.0.saturating_sub(from.0));
        self.before_s + since as f64 / 1e6
    }
}

/// How it is now.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Now<'a> {
    pub(crate) lanes: &'a [FlexLane],
    pub(crate) clock: Clock,
    /// The time of the last that was heard.
    pub(crate) at: Microseconds,
    pub(crate) watched_s: f64,
}

impl Now<'_> {
    pub(crate) fn s(&self) -> f64 {
        self.clock.s(self.at)
    }
}

/// What happened.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Happened<'a> {
    /// To the run.
    News(&'a FlexNews),
    /// Somebody said so, of this time.
    Mark(&'a str, Microseconds),
    /// The jig is looked for.
    Lost,
    /// After so many seconds.
    FoundAgain(f64),
}

/// What somebody wants.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Said {
    Enough,
    Mark {
        text: String,
        /// Since when it was meant; nothing: now.
        at: Option<Microseconds>,
    },
    /// Nobody can say anything any more.
    #[cfg(feature = "screen")]
    Gone,
}

pub(crate) trait Face {
    fn tell(&mut self, happened: Happened<'_>, now: &Now<'_>) -> io::Result<()>;

    /// Often: how it is, whether or not something happened.
    fn look(&mut self, now: &Now<'_>) -> io::Result<()>;

    /// What was typed since this was last asked.
    fn said(&mut self) -> Option<Said>;
}
