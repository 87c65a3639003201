//! A result as a person or a program meets it. Nothing here computes.

pub(crate) mod audit;
mod chart;
pub(crate) mod check;
pub(crate) mod described;
pub(crate) mod document;
pub(crate) mod explain;
pub(crate) mod far_lights;
pub(crate) mod flex;
pub(crate) mod folder;
mod in_all_results;
pub(crate) mod jig;
pub(crate) mod json;
pub(crate) mod judged;
pub(crate) mod label;
pub(crate) mod lead;
pub(crate) mod limits;
pub(crate) mod live;
pub(crate) mod lot;
pub(crate) mod next;
#[cfg(feature = "pdf")]
pub(crate) mod paper;
mod picture;
pub(crate) mod progress;
pub(crate) mod proof;
pub(crate) mod read_aloud;
pub(crate) mod records;
pub(crate) mod reel;
pub(crate) mod report;
pub(crate) mod signs;
pub(crate) mod studies;
#[cfg(feature = "postgres")]
pub(crate) mod sync;
pub(crate) mod terminal;
mod to_earth;
pub(crate) mod told;
pub(crate) mod tone;
mod words;
pub(crate) mod zero;

use runproof_interpret::capture::{Ending, Entry};
use runproof_interpret::{Capture, Judgement};
pub(crate) use words::NotAtFarEnd;

/// The verdict's reason, in a sentence.
pub(crate) fn reason(judgement: &Judgement) -> String {
    words::headline(judgement)
}

/// As JSON, on many lines.
fn written(printed: &impl serde::Serialize) -> String {
    let text = serde_json::to_string_pretty(printed);
    let text = text.unwrap_or_else(|error| unreachable!("all keys are text: {error}"));
    text + "\n"
}

/// Whether voltage ended a watch.
fn broken_off_by_hazard(capture: &Capture) -> bool {
    use runproof_protocol::Phase;
    let phases = [Phase::Flex, Phase::FlexShorts, Phase::FlexAcross, Phase::FlexAlong];
    let mut ends = phases.into_iter().flat_map(|phase| capture.ends(phase));
    ends.any(|ending| matches!(ending, Ending::Hazard { .. }))
}

/// Why a measurement broke off, if it did, in the words of who broke it off.
fn broken_off(capture: &Capture) -> Option<&str> {
    capture.entries.iter().find_map(|entry| match entry {
        Entry::End(end) => match &end.ending {
            Ending::Done { .. } => None,
            Ending::Stopped { reason }
            | Ending::Hazard { reason, .. }
            | Ending::Lost { reason } => Some(reason.as_str()),
        },
        _ => None,
    })
}
