//! Shares and errors that are counted over all runs, each with the bar that it is held against.

mod coverage;
mod errors;
mod false_verdicts;
mod flags;
mod named_right;

pub(crate) use coverage::coverage;
pub(crate) use errors::{Errors, errors};
pub(crate) use false_verdicts::false_verdicts;
pub(crate) use flags::flags;
pub(crate) use named_right::named_right;

use crate::Outcome;
use crate::bars::Bar;
use crate::class::Class;
use crate::numbers::{Numbers, Stated};
use crate::statistics::Share;

/// A share, and what it is held against.
pub(crate) struct Row {
    pub(crate) what: &'static str,
    pub(crate) share: Share,
    pub(crate) bar: Bar,
}

fn row(what: &'static str, bar: Bar, all: impl Iterator<Item = bool>) -> Row {
    Row { what, share: Share::of_all(all), bar }
}

fn is(class: Class) -> impl Fn(&&Outcome) -> bool {
    move |one| one.drawn.class == class
}

/// What these runs state, and of which run it is.
fn stated<'a>(
    all: &'a [Outcome],
    of: impl Fn(&Outcome) -> bool + 'a,
    what: impl Fn(&Numbers) -> Option<Stated> + 'a,
) -> impl Iterator<Item = (&'a Outcome, Stated)> {
    all.iter().filter(move |one| of(one)).filter_map(move |one| Some((one, what(&one.numbers)?)))
}
