//! The next step as a person or a program meets it.

pub(super) mod command;
mod json;
mod lists;
mod told;

use runproof_interpret::Judgement;
use runproof_interpret::judgement::LiveJudgement;
use runproof_interpret::next::{Advice, Known, Readings, Source, Steps};

pub(crate) use lists::{checked, questions};

/// A capture that was given, and what it came to.
pub(crate) struct Judged {
    /// Its file, as it was given.
    pub(crate) file: String,
    pub(crate) source: Source,
    pub(crate) readings: Readings,
    pub(crate) shown: Shown,
}

/// What is shown of it.
pub(crate) enum Shown {
    Check(Box<Judgement>),
    Live(Box<LiveJudgement>),
}

/// What to run next, each as words.
pub(crate) struct Commands {
    /// One after the other.
    pub(crate) run: Vec<Vec<String>>,
    /// Instead, where somebody tells it over the phone.
    pub(crate) or_told: Option<Vec<String>>,
}

/// All that is shown of a case.
pub(crate) struct Told<'a> {
    pub(crate) steps: &'a Steps,
    pub(crate) known: &'a Known<'a>,
    pub(crate) advice: &'a Advice<'a>,
    pub(crate) captures: &'a [Judged],
}
