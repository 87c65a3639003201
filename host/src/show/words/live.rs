//! What a live run showed, in sentences.

mod between;
mod finding;
mod hazard;
mod names;
mod next_step;
mod notes;
mod numbers;
mod supply_load;

pub(crate) use between::between;
pub(crate) use finding::finding;
pub(crate) use hazard::hazard_line;
pub(crate) use next_step::next_step;
pub(crate) use notes::{
    activity_short, has_data, kind_short, not_tested, notes, pair_name, place, zero,
};
pub(super) use numbers::number;
pub(crate) use numbers::{range, sign, signed_range, signed_volts, volts};
use runproof_interpret::judgement::{
    LiveFinding, LiveFindingKind, LiveJudgement, LiveReason, Severity, Verdict,
};

pub(crate) const CAUTION: &str = "voltage may be on this run now. What is not shown here may still be \
    there, to earth most of all: this jig is never the device that proves a run dead, a rated meter is. \
    Local codes and licensed practice come first.";

/// The findings that decide, or that there are none.
pub(crate) fn headline(judgement: &LiveJudgement) -> String {
    let wanted = match judgement.verdict {
        Verdict::Pass => {
            return "supply and data pair are within their ranges where the jig is clipped on."
                .into();
        }
        Verdict::Fail => Severity::Fail,
        Verdict::CannotTell => Severity::CannotTell,
    };
    let decisive = judgement.findings.iter().filter(|one| one.severity == wanted);
    // What may be live to earth comes first, whatever else is found.
    let together = |one: &&LiveFinding| one.kind == LiveFindingKind::AllMoveTogether;
    let first = judgement.findings.iter().filter(together);
    let decisive = first.chain(decisive.filter(|one| !together(one)));
    let mut told: Vec<String> = decisive.map(|one| finding::short(one, judgement)).collect();
    told.dedup();
    if told.is_empty() {
        return "the readings do not decide it.".into();
    }
    let mut first = told.join("; and ");
    first.push('.');
    first
}

/// What whoever stands there must know first.
pub(crate) fn dangers(judgement: &LiveJudgement) -> impl Iterator<Item = &'static str> {
    judgement.findings.iter().filter_map(|finding| match finding.kind {
        LiveFindingKind::Hazard if finding.severity != Severity::Fail => Some(
            "do not touch the conductors: they may be live.",
        ),
        LiveFindingKind::Hazard => Some(
            "do not touch the conductors, and leave the clips where they are. Switching the control's supply off \
             need not take this away: it may come from elsewhere. Whoever is licensed isolates the source and \
             proves the run dead with a rated meter; only then do the clips come off.",
        ),
        LiveFindingKind::AllMoveTogether => Some(
            "all conductors may be live to earth together: a voltage to earth does not show between \
             them. Do not touch them; have it measured to earth with a rated meter.",
        ),
        _ => None,
    })
}

/// Why a row has its verdict.
pub(crate) fn reason(reason: LiveReason) -> &'static str {
    match reason {
        LiveReason::WithinLimits => "in range",
        LiveReason::BelowLimit => "too low",
        LiveReason::AboveLimit => "too high",
        LiveReason::TooCloseToLimit => "too close",
        LiveReason::LimitUnknown => "no limit",
        LiveReason::OtherKind => "other kind",
        LiveReason::Nothing => "nothing there",
        LiveReason::CouplesIn => "couples in",
        LiveReason::Floats => "floats",
        LiveReason::Busy => "busy",
        LiveReason::Reversed => "reversed",
        LiveReason::Undecided => "undecided",
        LiveReason::BeyondRange => "beyond range",
        LiveReason::NotMeasured => "not told",
        _ => "see below",
    }
}
