//! Many results: a line each.

use runproof_interpret::RunKnowledge;
use runproof_interpret::judgement::Verdict;

use super::judged::Judged;
use super::terminal::indented;
use super::{flex, json, words};
use crate::arguments::Units;
use crate::error::Error;

/// How many of which.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Counts {
    pass: usize,
    fail: usize,
    cannot_tell: usize,
    unreadable: usize,
}

impl Counts {
    pub(crate) fn add(&mut self, verdict: Option<Verdict>) {
        *match verdict {
            Some(Verdict::Pass) => &mut self.pass,
            Some(Verdict::Fail) => &mut self.fail,
            Some(Verdict::CannotTell) => &mut self.cannot_tell,
            None => &mut self.unreadable,
        } += 1;
    }

    pub(crate) fn all(&self) -> usize {
        self.pass + self.fail + self.cannot_tell + self.unreadable
    }

    /// All verdicts together; none where a file could not be judged.
    pub(crate) fn verdict(&self) -> Option<Verdict> {
        match self {
            Self { unreadable: 1.., .. } => None,
            Self { fail: 1.., .. } => Some(Verdict::Fail),
            Self { cannot_tell: 1.., .. } => Some(Verdict::CannotTell),
            _ => Some(Verdict::Pass),
        }
    }
}

/// What one file came to.
pub(crate) fn line(
    name: &str,
    width: usize,
    judged: &Result<Judged, Error>,
    known: &RunKnowledge,
    as_json: bool,
) -> String {
    if as_json {
        return json::line(name, judged, known);
    }
    let (verdict, why) = match judged {
        Ok(Judged::Check(_, judgement)) => {
            (words::verdict(judgement.verdict), words::headline(judgement))
        }
        Ok(Judged::Live(_, judgement)) => {
            (words::verdict(judgement.verdict), words::live::headline(judgement))
        }
        Ok(Judged::Reel(_, judgement)) => {
            (words::verdict(judgement.verdict), words::reel::headline(judgement))
        }
        Ok(Judged::Flex(_, seen)) => (words::verdict(seen.judgement.verdict), flex::reason(seen)),
        Err(error) => ("NOT JUDGED", format!("{error}.")),
    };
    let text = format!("{verdict:<12}{name:<width$}  {why}");
    format!("{}\n", text.replace(char::is_control, "?"))
}

/// How many of which, and what was told of all of them.
pub(crate) fn totals(counts: &Counts, known: &RunKnowledge, units: Units) -> String {
    let Counts { pass, fail, cannot_tell, unreadable } = counts;
    let not_judged = match unreadable {
        0 => String::new(),
        1 => "; 1 file could not be judged".into(),
        many => format!("; {many} files could not be judged"),
    };
    let all = counts.all();
    let mut lines = vec![format!(
        "{all} in all: {pass} pass, {fail} fail, {cannot_tell} cannot tell{not_judged}."
    )];
    if let Some(told) = words::wire(known, units) {
        indented(&mut lines, 0, "", &format!("Told of every one of them: {told}."));
    }
    if known.gauge.is_some_and(|gauge| gauge.may_be_mains()) {
        indented(&mut lines, 0, "", &format!("CAUTION: {}", words::THICK_WIRE));
    }
    format!("{}\n", lines.join("\n"))
}
