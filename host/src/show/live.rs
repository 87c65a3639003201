//! The result of a live look, described: what was read, what was found, what to do.

pub(crate) mod json;
mod table;
pub(crate) mod watch;

use runproof_interpret::judgement::{LiveJudgement, Verdict};
use runproof_interpret::{Capture, compare_live};

use super::described::{Described, Row};
use super::{records, words};
use runproof_records::Kept;

use crate::arguments::Units;

pub(crate) fn described(
    capture: &Capture,
    judgement: &LiveJudgement,
    against: Option<&LiveJudgement>,
    units: Units,
    kept: Option<&Kept>,
) -> Described {
    let dangers = words::live::dangers(judgement);
    Described {
        verdict: judgement.verdict,
        reason: words::live::headline(judgement),
        alarms: dangers.map(|danger| Row::new("DANGER", danger)).collect(),
        table: table::table(judgement),
        rows: rows(capture, judgement, against, units, kept),
    }
}

fn rows(
    capture: &Capture,
    judgement: &LiveJudgement,
    against: Option<&LiveJudgement>,
    units: Units,
    kept: Option<&Kept>,
) -> Vec<Row> {
    let mut rows = vec![];
    let mut tell = |label, text: String| rows.push(Row::new(label, text));
    for finding in &judgement.findings {
        tell("found", words::live::finding(finding, judgement));
    }
    if let Some(reason) = super::broken_off(capture) {
        tell("broken off", format!("{reason}."));
    }
    tell("next", words::live::next_step(judgement).into());
    for (label, told) in words::live::notes(judgement) {
        tell(label, told);
    }
    if let Some(there) = against {
        let pair = words::live::pair_name(judgement);
        let both_pass = [judgement, there].into_iter().all(|one| one.verdict == Verdict::Pass);
        for (label, told) in words::live::between(&compare_live(judgement, there), pair, both_pass)
        {
            tell(label, told);
        }
    }
    tell("not tested", words::live::not_tested(&judgement.not_tested));
    tell("read aloud", super::read_aloud::live_code(capture, judgement));
    let place = judgement.at.map_or_else(String::new, |at| format!("{}; ", words::live::place(at)));
    tell("measured", place + &words::made(&judgement.sheet, &capture.head.jig));
    tell("zero", words::live::zero(&judgement.zero, units));
    if let Some(kept) = kept {
        tell("record", records::kept(kept));
    }
    tell("caution", words::live::CAUTION.into());
    rows
}

/// The verdict's reason, in a sentence.
pub(crate) fn reason(judgement: &LiveJudgement) -> String {
    words::live::headline(judgement)
}
