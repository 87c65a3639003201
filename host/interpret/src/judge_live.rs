//! The way from the live phase of a capture to a judgement.

mod conductors;
mod displaced;
mod findings;
mod fit;
mod floats;
pub(crate) mod front;
mod held;
mod held_or_open;
mod largest;
pub(crate) mod look;
mod numbers;
mod pair;
mod places;
mod seen;
mod supply;
mod supply_load;
mod uncertainty;
mod waves;
mod whole;
mod window;

use findings::Held;
use floats::Floating;
use seen::Seen;

use crate::capture::Capture;
use crate::judgement::{
    LIVE_COVERAGE, LiveCause, LiveJudgement, LiveNotTested, SheetName, SupplyLoad, Verdict,
};
use crate::known::LiveKnowledge;
use crate::limits::{LimitSheet, Severity};

/// What the live phase of `capture` shows, by the live ranges of `sheet` and what else is known of supply and run.
#[must_use]
pub fn judge_live(capture: &Capture, sheet: &LimitSheet, known: &LiveKnowledge) -> LiveJudgement {
    let seen = Seen::of(capture);
    let floating = Floating::of(&seen, sheet);
    let supply = supply::supply(&seen, sheet, &floating);
    let displaced = displaced::displaced(&seen, sheet, &floating, supply.as_ref());
    let pair = pair::pair(&seen, sheet, &floating, displaced.as_ref());
    let conductors =
        conductors::conductors(&seen, sheet, &floating, supply.as_ref(), pair.as_ref());
    let supply_load = supply_load::supply_load(capture, sheet, &seen, supply.as_ref(), known);
    let mut findings = findings::findings(&Held {
        seen: &seen,
        sheet,
        floating: &floating,
        supply: supply.as_ref(),
        displaced: displaced.as_ref(),
        pair: pair.as_ref(),
        conductors: &conductors,
    });
    let stands = supply.as_ref().map_or(Verdict::CannotTell, |one| one.verdict);
    let sags = supply_load.as_ref().and_then(|one| supply_load::finding(one, sheet, stands));
    findings.extend(sags);
    findings.sort_by_key(|one| (one.severity, one.kind));
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
        not_tested: not_tested(&seen, supply_load.as_ref()),
        supply,
        supply_load,
        pair,
        conductors,
    }
}

fn not_tested(seen: &Seen, supply_load: Option<&SupplyLoad>) -> Vec<LiveNotTested> {
    let mut all = vec![
        LiveNotTested::AgainstEarth,
        LiveNotTested::UnderTheControlsLoad,
        LiveNotTested::ComesAndGoes,
        LiveNotTested::TheData,
        LiveNotTested::TheWiring,
    ];
    if supply_load.is_some_and(|load| load.control.is_some()) {
        all.retain(|one| *one != LiveNotTested::UnderTheControlsLoad);
    }
    if matches!(seen.whole, Err(LiveCause::LoadedMissing | LiveCause::NotMeasured)) {
        all.insert(0, LiveNotTested::UnderTheLoad);
    }
    all
}
