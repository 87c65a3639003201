//! A live run on a terminal: verdict first, then what was read, what was found, what to do.

pub(crate) mod json;
mod rows;
pub(crate) mod watch;

use runproof_interpret::judgement::{LiveJudgement, Verdict};
use runproof_interpret::{Capture, compare_live};

use super::terminal::{broken, paragraph};
use super::words;
use crate::arguments::Units;

pub(crate) fn result(
    capture: &Capture,
    judgement: &LiveJudgement,
    against: Option<&LiveJudgement>,
    units: Units,
) -> String {
    let jig = &capture.head.jig;
    let mut lines = vec![];
    let verdict = format!("{}:", words::verdict(judgement.verdict));
    broken(&mut lines, verdict, 2, &words::live::headline(judgement));
    for danger in words::live::dangers(judgement) {
        paragraph(&mut lines, "DANGER", danger);
    }
    lines.push(String::new());
    lines.extend(rows::table(judgement));
    lines.push(String::new());
    for finding in &judgement.findings {
        paragraph(&mut lines, "found", &words::live::finding(finding, judgement));
    }
    if let Some(reason) = super::broken_off(capture) {
        paragraph(&mut lines, "broken off", &format!("{reason}."));
    }
    paragraph(&mut lines, "next", words::live::next_step(judgement));
    for (label, told) in words::live::notes(judgement) {
        paragraph(&mut lines, label, &told);
    }
    if let Some(there) = against {
        let pair = words::live::pair_name(judgement);
        let both_pass = [judgement, there].into_iter().all(|one| one.verdict == Verdict::Pass);
        for (label, told) in words::live::between(&compare_live(judgement, there), pair, both_pass)
        {
            paragraph(&mut lines, label, &told);
        }
    }
    paragraph(&mut lines, "not tested", &words::live::not_tested(&judgement.not_tested));
    paragraph(&mut lines, "read aloud", &super::read_aloud::live_code(capture, judgement));
    let place = judgement.at.map_or_else(String::new, |at| format!("{}; ", words::live::place(at)));
    let made = place + &words::made(&judgement.sheet, jig);
    paragraph(&mut lines, "measured", &made);
    paragraph(&mut lines, "zero", &words::live::zero(&judgement.zero, units));
    paragraph(&mut lines, "caution", words::live::CAUTION);
    lines.push(String::new());
    // What comes from a capture must not steer the terminal.
    lines.join("\n").replace(|c: char| c.is_control() && c != '\n', "?")
}
