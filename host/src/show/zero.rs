//! A zero that was taken, in words.

use std::path::Path;

use runproof_interpret::NoLiveZero;
use runproof_interpret::capture::{Head, LiveZero, Zero};

use super::terminal::paragraph;
use crate::jig::JigError;

/// Between two zeros, what two conductors' clips may differ by; more is a change of jig or plug.
/// (judgement)
const CLIPS_OHM: f64 = 0.25;

/// What was taken.
pub(crate) struct Taken<'a> {
    pub(crate) zero: &'a Zero,
    /// From the one before.
    pub(crate) changed_ohm: Option<f64>,
    /// Of the jig's voltmeter; nothing, if it was not read.
    pub(crate) live: Option<Result<LiveZero, NoLiveZero>>,
    pub(crate) path: &'a Path,
    pub(crate) is_simulated: bool,
}

/// Whose zero it is, in a sentence.
pub(crate) fn reason(head: &Head) -> String {
    let plug = match head.plug.id.as_str() {
        "" => String::new(),
        id => format!(" {id}"),
    };
    format!("the end plug{plug} read by jig {}.", head.jig.serial)
}

/// It can be read aloud.
pub(crate) fn taken(taken: Taken<'_>, on_jig: Option<&Result<(), JigError>>) -> String {
    let Taken { zero, changed_ohm, live, path, is_simulated } = taken;
    let mut lines = vec!["ZERO: the end plug reads as it should.".to_owned(), String::new()];
    let warmth = match zero.jig_c {
        Some(celsius) => format!(
            "with the jig at {:.0} °F ({celsius:.0} °C); take it again when the jig is more than \
             18 °F (10 °C) warmer or colder, or after 30 days.",
            32.0 + 1.8 * celsius
        ),
        None => "the jig cannot tell how warm it is: take it again when that changes, or after 30 \
                 days."
            .into(),
    };
    paragraph(&mut lines, "taken", &warmth);
    let changed = match changed_ohm {
        None => "there is no earlier one of this jig and plug to compare with.".into(),
        Some(ohm) if ohm <= CLIPS_OHM => {
            format!("the last one was the same within {ohm:.2} Ω, as clips differ.")
        }
        Some(ohm) => format!(
            "the last one was {ohm:.2} Ω off, more than clips differ by: clean the clips and take it \
             again; if it stays, jig or plug has changed, and earlier results are in doubt."
        ),
    };
    paragraph(&mut lines, "change", &changed);
    let voltmeter = match live {
        Some(Ok(_)) => "read as well, for `runproof live`.".to_owned(),
        Some(Err(reason)) => format!(
            "not zeroed, {reason}: take everything off the clips, the key out of the tail, and take the zero \
             again."
        ),
        None => "not zeroed: the key was not taken out; `runproof live` stands on nominal values."
            .into(),
    };
    paragraph(&mut lines, "voltmeter", &voltmeter);
    paragraph(&mut lines, "kept in", &path.display().to_string());
    match on_jig {
        Some(Ok(())) if is_simulated => {
            paragraph(&mut lines, "and on", "the simulated jig, which ends with this.");
        }
        Some(Ok(())) => {
            paragraph(&mut lines, "and on", "the jig itself, for whatever computer it is on.")
        }
        Some(Err(error)) => {
            let told = format!(
                "{error}: only this computer has it. To have it there: {}.",
                error.next_step()
            );
            paragraph(&mut lines, "not on", &format!("the jig: {told}"));
        }
        None => {}
    }
    lines.push(String::new());
    lines.join("\n").replace(|c: char| c.is_control() && c != '\n', "?")
}
