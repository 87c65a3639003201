//! The way from the live phase of a capture to a judgement.

mod conductors;
mod displaced;
mod findings;
mod fit;
mod floats;
pub(crate) mod front;
mod held;
mod largest;
pub(crate) mod look;
mod pair;
mod seen;
mod supply;
mod uncertainty;
mod waves;
mod whole;
mod window;

use findings::Held;
use seen::Seen;

use crate::capture::Capture;
use crate::judgement::{
    LIVE_COVERAGE, LiveCause, LiveJudgement, LiveNotTested, SheetName, Verdict,
};
use crate::limits::{LimitSheet, Severity};

/// What the live phase of `capture` shows, by the live ranges of `sheet`.
#[must_use]
pub fn judge_live(capture: &Capture, sheet: &LimitSheet) -> LiveJudgement {
    let seen = Seen::of(capture);
    let floating = floats::floating(&seen.alone, &seen.loaded);
    let supply = supply::supply(&seen, sheet, &floating);
    let displaced = displaced::displaced(&seen, sheet, &floating, supply.as_ref());
    let pair = pair::pair(&seen, sheet, &floating, displaced.as_ref());
    let conductors =
        conductors::conductors(&seen, sheet, &floating, supply.as_ref(), pair.as_ref());
    let findings = findings::findings(&Held {
        seen: &seen,
        sheet,
        floating: &floating,
        supply: supply.as_ref(),
        displaced: displaced.as_ref(),
        pair: pair.as_ref(),
        conductors: &conductors,
    });
    let by_finding = findings.iter().map(|finding| match finding.severity {
        Severity::Fail => Verdict::Fail,
        Severity::CannotTell => Verdict::CannotTell,
        Severity::Note => Verdict::Pass,
    });
    let verdict = (supply.iter().map(|one| one.verdict))
        .chain(pair.iter().map(|one| one.verdict))
        .chain(conductors.iter().map(|one| one.verdict))
        .chain(by_finding)
        .fold(Verdict::Pass, Verdict::and);
    LiveJudgement {
        verdict,
        at: capture.at(),
        largest: largest::largest(&seen),
        moves_together_v: seen.together_v,
        findings,
        zero: seen.zero,
        coverage: LIVE_COVERAGE,
        decision_rule: sheet.decision_rule,
        sheet: SheetName { name: sheet.name.clone(), version: sheet.version.clone() },
        not_tested: not_tested(&seen),
        supply,
        pair,
        conductors,
    }
}

fn not_tested(seen: &Seen) -> Vec<LiveNotTested> {
    let mut all = vec![
        LiveNotTested::AgainstEarth,
        LiveNotTested::UnderTheControlsLoad,
        LiveNotTested::ComesAndGoes,
        LiveNotTested::TheData,
        LiveNotTested::TheWiring,
    ];
    if matches!(seen.whole, Err(LiveCause::LoadedMissing | LiveCause::NotMeasured)) {
        all.insert(0, LiveNotTested::UnderTheLoad);
    }
    all
}
