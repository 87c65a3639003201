//! A capture of either kind, and what follows from it.

use runproof_interpret::judgement::{LiveJudgement, ReelJudgement, Verdict};
use runproof_interpret::{Capture, Judgement};

use super::flex::Seen;

/// A file, and what follows from it.
pub(crate) enum Judged {
    Check(Capture, Judgement),
    Live(Capture, LiveJudgement),
    Reel(Capture, Box<ReelJudgement>),
    Flex(Capture, Box<Seen>),
}

impl Judged {
    pub(crate) fn capture(&self) -> &Capture {
        match self {
            Self::Check(capture, _)
            | Self::Live(capture, _)
            | Self::Reel(capture, _)
            | Self::Flex(capture, _) => capture,
        }
    }

    pub(crate) fn verdict(&self) -> Verdict {
        match self {
            Self::Check(_, judgement) => judgement.verdict,
            Self::Live(_, judgement) => judgement.verdict,
            Self::Reel(_, judgement) => judgement.verdict,
            Self::Flex(_, seen) => seen.judgement.verdict,
        }
    }
}
