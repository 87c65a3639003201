//! What an audit says beside what is on record.

use runproof_quality::proof::Out;
use runproof_records::jiff::Timestamp;

use super::lot::moment;

pub(in crate::show) const ZEROS: &str = "Zeros";
pub(in crate::show) const PROOFS: &str = "Proofs by known pieces";
pub(in crate::show) const COUNTS: &str = "What it judged";
pub(in crate::show) const IN_DOUBT: &str = "In doubt";
pub(in crate::show) const LOTS: &str = "Lots, and what was done with them";
pub(in crate::show) const REJECTED: &str = "What failed";
pub(in crate::show) const VERSIONS: &str = "Programs and firmware";
pub(in crate::show) const SHEETS: &str = "Limit sheets";
pub(in crate::show) const TESTS: &str = "Every test";
pub(in crate::show) const EVIDENCE: &str = "Where the evidence is";

pub(in crate::show) const NO_ZEROS: &str = "no zero is on record in this time.";
pub(in crate::show) const NO_PROOFS: &str = "no proof is on record in this time.";
pub(in crate::show) const NO_TESTS: &str = "no test of a run is on record in this time.";
pub(in crate::show) const NO_LOTS: &str =
    "no lot is on record of which it tested a unit in this time.";
pub(in crate::show) const NONE_FAILED: &str = "no test on record failed in this time.";
pub(in crate::show) const NOT_FOUND_OUT: &str =
    "nothing: by the proofs on record the jig was never found out.";
pub(in crate::show) const NOT_CLOSED: &str = "not closed: no disposition is on record";
pub(in crate::show) const NOTHING_SAID: &str = "what became of it is not on record";
pub(in crate::show) const RIGHT: &str = "proved";
pub(in crate::show) const NOT_RIGHT: &str = "NOT PROVED";
pub(in crate::show) const NOT_KEPT: &str = "not kept";

pub(in crate::show) const NOT_ON_RECORD: &str = "the hash of the jig's firmware, of which a record holds the version; a \
    calibration of the jig itself, which is proved by known pieces instead; who measured, where nobody said it; what was measured \
    with --no-record, or is kept on another computer.";

pub(in crate::show) fn period(since: Option<Timestamp>, until: Option<Timestamp>) -> String {
    match (since.map(moment), until.map(moment)) {
        (None, None) => "all that is on record here".into(),
        (Some(since), None) => format!("from {since} on"),
        (None, Some(until)) => format!("before {until}"),
        (Some(since), Some(until)) => format!("from {since}, before {until}"),
    }
}

pub(in crate::show) fn out(why: &Out) -> String {
    match why {
        Out::Piece { name } => format!("the piece `{name}` read otherwise than stated"),
        Out::BeyondItsChart { of } => format!("{of} was beyond its chart"),
    }
}

/// Of the tests that count.
pub(in crate::show) fn unproved(count: usize, of: usize) -> String {
    match count {
        0 => format!("each of {of} tests that count was made while the jig was proved to be right"),
        _ => format!(
            "{count} of {of} tests that count were made while the jig was not proved to be right: not within a day after a proof, \
             or it was found out next"
        ),
    }
}

pub(in crate::show) fn kept_zeros(count: usize, newest: Option<Timestamp>) -> String {
    let newest =
        newest.map_or_else(String::new, |newest| format!(", the newest of {}", moment(newest)));
    match count {
        0 => "none is kept on this computer for later checks".into(),
        1 => format!("1 is kept on this computer for later checks{newest}"),
        _ => format!("{count} are kept on this computer for later checks{newest}"),
    }
}
