//! The few words that stand in a picture of the run.

use runproof_interpret::judgement::{Finding, FindingKind, Location};

use super::between::ohms;

pub(in crate::show) const NOT_KNOWN: &str = "arrival not known";
pub(in crate::show) const EITHER: &str = "either wire";
pub(in crate::show) const GOES_ON: &str = "the run goes on";
pub(in crate::show) const TOO_MUCH: &str = "too much, place not known";
pub(in crate::show) const HAZARD: &str = "DANGER";
pub(in crate::show) const BETWEEN_THEM: &str = "between them";

/// At a cut.
pub(in crate::show) fn open(place: Option<Location>) -> &'static str {
    if place.is_some() { "open" } else { "open, place not known" }
}

/// At what is between conductors; none for a finding of another kind.
pub(in crate::show) fn join(finding: &Finding) -> Option<String> {
    let what = match finding.kind {
        FindingKind::Short => "short",
        FindingKind::Leakage => "path",
        FindingKind::SomethingConnected => "device?",
        _ => return None,
    };
    let place = if finding.location.is_some() { "" } else { ", place not known" };
    Some(match finding.value {
        Some(_) => format!("{what}, {}{place}", ohms(finding.value)),
        None => format!("{what}{place}"),
    })
}

/// What alternates on a conductor.
pub(in crate::show) fn alternates(reading: &str) -> String {
    format!("{reading} AC")
}
