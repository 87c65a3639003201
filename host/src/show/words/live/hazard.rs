//! More voltage than a control run may have: between which two conductors, and how much.

use runproof_interpret::judgement::{LiveFinding, LiveFindingKind, LiveJudgement, Severity};

use super::names::whom;
use super::numbers::number;

/// ", at least 168 V between data+ and data−"; "" where nothing is known of it.
pub(super) fn where_it_is(finding: &LiveFinding, whom: &str) -> String {
    let between = between(finding, whom);
    match (at_least(finding), number(finding, finding.value)) {
        (Some(least), _) => format!(", {least} {between}"),
        (None, Some(value)) => format!(", up to {value} {between}"),
        (None, None) => format!(", {between}"),
    }
}

pub(super) fn told(finding: &LiveFinding, whom: &str, loaded: &str) -> String {
    let between = between(finding, whom);
    let Some(value) = number(finding, finding.value) else {
        let least = at_least(finding)
            .map_or_else(String::new, |least| format!(", {least} at some instant"));
        return format!(
            "voltage beyond the jig's range {between}{least}: how much more is not known."
        );
    };
    if finding.severity != Severity::Fail {
        return format!(
            "up to {value} {between} by the high-impedance reading{loaded}: it seems to couple in. Treat it as \
             live until a rated meter says otherwise."
        );
    }
    format!(
        "up to {value} {between}, the most of any two conductors; a control run may have 30 V alternating, or \
         42 V direct, or less of each where both are there."
    )
}

/// Of a reading among many: what may hurt somebody.
pub(crate) fn hazard_line(judgement: &LiveJudgement) -> Option<String> {
    let of = |kind| judgement.findings.iter().find(|one| one.kind == kind);
    let hazard = of(LiveFindingKind::Hazard).map(|finding| {
        let between = between(finding, &whom(finding, judgement));
        match (at_least(finding), number(finding, finding.value)) {
            (Some(volts), _) | (None, Some(volts)) => format!("DANGER: {volts} {between}"),
            (None, None) => format!("DANGER: {between}"),
        }
    });
    let together =
        || of(LiveFindingKind::AllMoveTogether).map(|_| "DANGER: all may be live to earth".into());
    hazard.or_else(together)
}

/// Rounded down: it is a bound.
fn at_least(finding: &LiveFinding) -> Option<String> {
    finding.at_least.map(|volts| format!("at least {:.0} V", volts.floor()))
}

fn between(finding: &LiveFinding, whom: &str) -> String {
    match finding.posts.len() {
        1 => format!("on {whom}, against the jig itself"),
        _ => format!("between {whom}"),
    }
}
