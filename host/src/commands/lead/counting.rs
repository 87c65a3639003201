//! What happens to each lead that was measured: it is recorded at once, counted and told.

use std::sync::{Arc, Mutex, PoisonError};

use runproof_interpret::Capture;
use runproof_interpret::judgement::{Judgement, Verdict};
use runproof_protocol::Microseconds;
use runproof_records::{Detail, Key};

use super::begin::Begun;
use crate::arguments::Lead as Arguments;
use crate::error::{Error, LeadError};
use crate::guide::lead::Why;
use crate::jig::Operator;
use crate::recording::{self, of_check};
use crate::shop::leads::{self, Numbers, Tally, fault};
use crate::show;
use crate::show::lead::{Line, Screen};

pub(super) struct Counting<'a> {
    begun: &'a Begun,
    lot: Option<&'a str>,
    said: Option<&'a str>,
    most: Option<u32>,
    numbers: Numbers,
    operator: Option<Arc<Mutex<Operator>>>,
    /// What was counted last, as long as it can be taken back.
    last: Option<Last>,
    pub(super) tally: Tally,
    pub(super) screen: Screen,
    /// So often a lead was asked for again.
    again: u32,
    /// Of each fixture, when it was ready first, on its jig's clock.
    begun_at: Vec<Option<Microseconds>>,
}

/// A lead that is counted, and where it was measured.
pub(super) struct Counted<'a> {
    pub(super) capture: &'a Capture,
    pub(super) judgement: &'a Judgement,
    pub(super) fixture: usize,
}

struct Last {
    record: i64,
    number: u32,
    verdict: Verdict,
    fault: Option<String>,
}

impl<'a> Counting<'a> {
    pub(super) fn new(
        begun: &'a Begun,
        arguments: &'a Arguments,
        numbers: Numbers,
        operator: Option<Arc<Mutex<Operator>>>,
        fixtures: usize,
    ) -> Self {
        let most = arguments.count.or_else(|| operator.as_ref().map(|_| SIMULATED_COUNT));
        Self {
            begun,
            lot: begun.lot.as_ref().map(|lot| lot.name.as_str()),
            said: arguments.operator.as_deref().filter(|said| !said.is_empty()),
            most,
            numbers,
            operator,
            last: None,
            tally: Tally::default(),
            screen: Screen::new(arguments.json, begun.way, fixtures),
            again: 0,
            begun_at: vec![None; fixtures],
        }
    }

    fn is_done(&self) -> bool {
        self.most.is_some_and(|most| self.tally.all() >= most) || self.numbers.next().is_none()
    }

    /// A fixture is empty: false, where no lead is wanted any more.
    pub(super) fn ready(&mut self, fixture: usize, at: Microseconds) -> bool {
        self.begun_at[fixture].get_or_insert(at);
        let next = self.numbers.next().filter(|_| !self.is_done());
        next.map(|number| self.screen.ready(fixture, number)).is_some()
    }

    pub(super) fn again(&mut self, fixture: usize, why: Why) {
        self.again += 1;
        self.screen.again(fixture, why);
    }

    fn next_number(&self) -> Result<u32, Error> {
        self.numbers.next().ok_or_else(|| {
            let (name, units) =
                self.begun.lot.as_ref().map_or_else(Default::default, |lot| {
                    (lot.name.clone(), lot.opened.declared.units)
                });
            LeadError::LotIsFull { name, units }.into()
        })
    }

    /// What was found at `at` on the fixture's jig's clock; false, where no lead is wanted any more.
    pub(super) fn count(&mut self, counted: Counted<'_>, at: Microseconds) -> Result<bool, Error> {
        if self.is_done() {
            return Ok(false);
        }
        let Counted { capture, judgement, fixture } = counted;
        let number = self.next_number()?;
        let mut details = leads::details(self.lot, number);
        details.extend(self.said.map(|said| Detail::new(Key::Operator, said)));
        let begun = self.begun;
        let record = of_check(capture, judgement, &begun.known, &begun.sheet, &details);
        let recorded = recording::keep(&record)?;
        crate::commands::told_where(Some(&recorded));
        self.numbers.take(number);
        let fault = fault(judgement).map(|kind| recording::name(&kind));
        let since = self.begun_at[fixture].map_or(0, |begun| at.0.saturating_sub(begun.0));
        self.tally.count(judgement.verdict, fault.as_deref(), Microseconds(since));
        let simulated = self.operator.as_ref().map(|operator| {
            operator.lock().unwrap_or_else(PoisonError::into_inner).in_fixture(fixture)
        });
        let kept = recorded.kept();
        self.last = kept.map(|kept| Last {
            record: kept.number,
            number,
            verdict: judgement.verdict,
            fault: fault.clone(),
        });
        let line = Line {
            number,
            fixture,
            verdict: judgement.verdict,
            said: show::reason(judgement),
            fault: fault.as_deref(),
            record: kept.map(|kept| kept.number),
            at,
            simulated,
            tally: &self.tally,
        };
        crate::commands::print(&self.screen.lead(&line))?;
        Ok(!self.is_done())
    }

    pub(super) fn take_back(&mut self) -> Result<(), Error> {
        let Some(last) = self.last.take() else {
            self.screen.nothing_to_take_back();
            return Ok(());
        };
        leads::void(&mut recording::store()?, last.record)?;
        self.numbers.give_back(last.number);
        self.tally.take_back(last.verdict, last.fault.as_deref());
        crate::commands::print(&self.screen.taken_back(last.number))
    }

    pub(super) fn end(&mut self) -> Result<(), Error> {
        let told = self.screen.end(&self.tally, self.again);
        crate::commands::print(&told)
    }
}

/// A box of simulated leads.
const SIMULATED_COUNT: u32 = 20;

impl Drop for Counting<'_> {
    fn drop(&mut self) {
        self.screen.clear();
    }
}
