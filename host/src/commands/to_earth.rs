//! What a test to earth cannot be told: it has no conductors one by one.

use runproof_interpret::copper::CelsiusRange;
use runproof_interpret::{Capture, RunKnowledge};

use crate::error::Error;

/// What is known of the run fits what is judged.
pub(super) fn check_told(capture: &Capture, known: &RunKnowledge) -> Result<(), Error> {
    if capture.to_earth().is_some() { takes(known) } else { Ok(()) }
}

/// An error that names the first fact that makes no sense.
pub(super) fn takes(known: &RunKnowledge) -> Result<(), Error> {
    let RunKnowledge { gauge, length, temperature, lifted: _, cannot_lift, landed, other_end } =
        known;
    let facts = [
        (gauge.is_some(), "--gauge"),
        (length.is_some(), "--length"),
        (*temperature != CelsiusRange::default(), "--cable-temp"),
        (cannot_lift.is_some(), "--cannot-lift"),
        (landed.near.is_some(), "--near-colours"),
        (landed.far.is_some(), "--far-colours"),
        (other_end.is_some(), "--other-end"),
    ];
    match facts.into_iter().find(|(is_told, _)| *is_told) {
        Some((_, told)) => Err(Error::NotToEarth { told }),
        None => Ok(()),
    }
}
