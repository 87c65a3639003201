//! The result of a reel's test, described: its cores, what was found, how long it is, of what it is made.

pub(crate) mod history;
pub(crate) mod json;
mod table;

use runproof_interpret::Capture;
use runproof_interpret::judgement::ReelJudgement;
use runproof_records::Kept;

use super::described::{Described, Row};
use super::{records, words};
use crate::arguments::Units;

pub(crate) fn described(
    capture: &Capture,
    judgement: &ReelJudgement,
    units: Units,
    kept: Option<&Kept>,
) -> Described {
    let dangers = judgement.run.findings.iter().filter_map(words::danger);
    Described {
        verdict: judgement.verdict,
        reason: words::reel::headline(judgement),
        alarms: dangers.map(|danger| Row::new("DANGER", danger)).collect(),
        table: table::table(judgement, units),
        rows: rows(capture, judgement, units, kept),
    }
}

fn rows(
    capture: &Capture,
    judgement: &ReelJudgement,
    units: Units,
    kept: Option<&Kept>,
) -> Vec<Row> {
    let run = &judgement.run;
    let mut rows = vec![];
    let mut tell =
        |label, text: Option<String>| rows.extend(text.map(|text| Row::new(label, text)));
    for finding in &judgement.findings {
        tell("found", Some(words::reel::finding(finding, judgement, units)));
    }
    for finding in &run.findings {
        tell("found", Some(words::finding(finding, run, units)));
    }
    tell("broken off", super::broken_off(capture).map(|reason| format!("{reason}.")));
    tell("next", Some(words::reel::next_step(judgement).into()));
    tell("length", words::reel::length(judgement, units));
    tell("marks", words::reel::marks(judgement, units));
    tell("gauge", words::reel::gauge(judgement, units));
    tell("material", words::reel::material(judgement));
    tell("cores", words::reel::unbalance(judgement));
    tell("drift", words::reel::drift(judgement, units));
    tell("isolation", words::isolation(&run.isolation, run));
    tell("before", words::reel::before(judgement, units));
    tell("could miss", words::reel::misses(judgement));
    tell("not tested", Some(words::not_tested(&run.not_tested)));
    tell("declared", Some(words::reel::declared(&judgement.declared, units)));
    tell("limits", words::reel::limits(judgement, units));
    tell("measured", Some(words::made(&run.sheet, &capture.head.jig)));
    tell("zero", words::zero(run, units));
    tell("record", kept.map(records::kept));
    tell("caution", Some(words::reel::CAUTION.into()));
    rows
}

/// The verdict's reason, in a sentence.
pub(crate) fn reason(judgement: &ReelJudgement) -> String {
    words::reel::headline(judgement)
}
