//! The station's screen: a line of each lead, and below, on a terminal, what is asked for and how it goes.

use std::io::{self, IsTerminal, Write};

use runproof_interpret::judgement::Verdict;
use runproof_protocol::Microseconds;
use serde_json::json;

use super::words::{self, lead as said};
use crate::guide::lead::{Way, Why};
use crate::jig::Fault;
use crate::shop::leads::Tally;

/// A lead that was counted.
pub(crate) struct Line<'a> {
    pub(crate) number: u32,
    /// From 0.
    pub(crate) fixture: usize,
    pub(crate) verdict: Verdict,
    /// Why, in words.
    pub(crate) said: String,
    /// As it is written in records.
    pub(crate) fault: Option<&'a str>,
    pub(crate) record: Option<i64>,
    /// On the jig's clock.
    pub(crate) at: Microseconds,
    /// Of a simulated box: which lead it was, and what is wrong with it.
    pub(crate) simulated: Option<(u32, Fault)>,
    pub(crate) tally: &'a Tally,
}

/// What happens stands on standard error, what was found on standard output.
pub(crate) struct Screen {
    json: bool,
    way: Way,
    /// There is more than one fixture: which it was is told.
    is_of_several: bool,
    is_terminal: bool,
    /// A line is there that is written over.
    is_written: bool,
    counts: String,
}

impl Screen {
    pub(crate) fn new(json: bool, way: Way, fixtures: usize) -> Self {
        Self {
            json,
            way,
            is_of_several: fixtures > 1,
            is_terminal: io::stderr().is_terminal(),
            is_written: false,
            counts: String::new(),
        }
    }

    pub(crate) fn begin(&mut self, can_type: bool, is_simulated: bool) {
        if self.json {
            return;
        }
        if !is_simulated {
            self.line(said::before(self.way));
        }
        if self.way == Way::Clips {
            self.line(said::CLIPS_DO_NOT_SEE);
        }
        if can_type {
            self.line(said::TYPE);
        }
    }

    pub(crate) fn ready(&mut self, fixture: usize, number: u32) {
        self.now(&match self.several(fixture) {
            None => said::next_lead(self.way, number),
            Some(fixture) => said::next_lead_at(self.way, fixture),
        });
    }

    pub(crate) fn end_b(&mut self, fixture: usize) {
        self.now(&match self.several(fixture) {
            None => said::END_B.into(),
            Some(fixture) => said::end_b_at(fixture),
        });
    }

    pub(crate) fn end_b_off(&mut self, fixture: usize) {
        self.at(fixture, said::END_B_OFF);
    }

    pub(crate) fn take_out(&mut self, fixture: usize) {
        self.at(fixture, said::take_out(self.way));
    }

    pub(crate) fn again(&mut self, fixture: usize, why: Why) {
        self.at(fixture, said::again(self.way, why));
    }

    pub(crate) fn not_empty(&mut self, fixture: usize) {
        self.at(fixture, said::not_empty(self.way));
    }

    fn at(&mut self, fixture: usize, told: &str) {
        match self.several(fixture) {
            None => self.line(told),
            Some(fixture) => self.line(&said::at(fixture, told)),
        }
    }

    /// As people count them, where there are several.
    fn several(&self, fixture: usize) -> Option<usize> {
        self.is_of_several.then_some(fixture + 1)
    }

    pub(crate) fn nothing_to_take_back(&mut self) {
        self.line(said::NOTHING_TO_TAKE_BACK);
    }

    /// As it is printed.
    pub(crate) fn lead(&mut self, line: &Line<'_>) -> String {
        self.clear();
        let Line { number, fixture, verdict, said: reason, .. } = line;
        if self.json {
            return as_json(line);
        }
        self.counts = said::counts(line.tally);
        let fixture = self.several(*fixture);
        let reason = if *verdict == Verdict::Pass { "" } else { reason };
        words::printable(&said::lead(*number, fixture, words::verdict(*verdict), reason)) + "\n"
    }

    pub(crate) fn taken_back(&mut self, number: u32) -> String {
        self.clear();
        self.counts.clear();
        taken_back(number, self.json)
    }

    /// The sums.
    pub(crate) fn end(&mut self, tally: &Tally, again: u32) -> String {
        self.clear();
        if self.json { String::new() } else { said::sums(tally, again) }
    }

    pub(crate) fn clear(&mut self) {
        if std::mem::take(&mut self.is_written) {
            eprint!("\r\x1b[K");
        }
    }

    fn now(&mut self, asked: &str) {
        if self.json || !self.is_terminal {
            return;
        }
        let told =
            if self.counts.is_empty() { asked.into() } else { format!("{asked}  {}", self.counts) };
        let told: String = told.chars().take(said::WIDTH - 1).collect();
        eprint!("\r\x1b[K{told}");
        let _unseen = io::stderr().flush();
        self.is_written = true;
    }

    fn line(&mut self, told: &str) {
        self.clear();
        eprintln!("{told}");
    }
}

/// As it is printed.
pub(crate) fn taken_back(number: u32, json: bool) -> String {
    if json {
        return format!("{}\n", json!({ "taken_back": number }));
    }
    said::taken_back(number) + "\n"
}

fn as_json(line: &Line<'_>) -> String {
    let tally = line.tally;
    let mut told = json!({
        "lead": line.number,
        "fixture": line.fixture + 1,
        "verdict": line.verdict,
        "said": line.said,
        "fault": line.fault,
        "record": line.record,
        "at_s": line.at.0 as f64 / 1e6,
        "pass": tally.pass,
        "fail": tally.fail,
        "cannot_tell": tally.cannot_tell,
        "faults": tally.faults,
        "yield_percent": tally.yield_percent(),
        "leads_per_hour": tally.per_hour(),
    });
    if let Some((nth, fault)) = line.simulated {
        told["simulated"] = json!({ "nth": nth, "fault": fault });
    }
    format!("{told}\n")
}
