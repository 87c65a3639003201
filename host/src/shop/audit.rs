//! All that is on record of one jig, for whoever audits it: from its zeros and proofs to what it judged and by what.

use runproof_interpret::judgement::Verdict;
use runproof_interpret::pieces::PieceSet;
use runproof_quality::proof::Event;
use runproof_records::jiff::Timestamp;
use runproof_records::{Filter, Key, Kind, Listed, Store, Used, UsedSheet, Versions, latest};

use super::lots::Lot;
use super::proofs::{Doubted, Jigs, Proved};
use crate::error::{AuditError, Error};

pub(crate) struct Audit {
    pub(crate) jig: String,
    /// From when to when, where that was told.
    pub(crate) since: Option<Timestamp>,
    pub(crate) until: Option<Timestamp>,
    /// By these pieces; of all times, as a proof before the period may hold in it.
    pub(crate) proved: Proved,
    pub(crate) zeros: Vec<Listed>,
    /// The oldest first.
    pub(crate) judged: Vec<JudgedThen>,
    pub(crate) lots: Vec<Lot>,
    pub(crate) versions: Vec<Used<Versions>>,
    pub(crate) sheets: Vec<Used<UsedSheet>>,
    /// Of all times as well.
    pub(crate) doubted: Option<Doubted>,
}

/// A test of a run, and whether the jig was proved to be right then.
pub(crate) struct JudgedThen {
    pub(crate) test: Listed,
    pub(crate) jig_was_right: bool,
}

/// How many tests of a kind, and what came of them; those that are void by themselves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Count {
    pub(crate) pass: usize,
    pub(crate) fail: usize,
    pub(crate) cannot_tell: usize,
    pub(crate) void: usize,
}

impl Audit {
    pub(crate) fn of(
        store: &Store,
        jig: &str,
        [since, until]: [Option<Timestamp>; 2],
        set: &PieceSet,
    ) -> Result<Self, Error> {
        let filter = Filter { jig: Some(jig.to_owned()), since, until, ..Filter::default() };
        let mut all = vec![];
        store.each(&filter, &mut |one| all.push(one))?;
        all.reverse();
        let proved = Proved::of(store, jig, set)?;
        if all.is_empty() && proved.history.events.all().is_empty() {
            return Err(AuditError::NothingOf { jig: jig.into() }.into());
        }
        let (zeros, rest): (Vec<Listed>, Vec<Listed>) =
            all.into_iter().partition(|one| one.kind == Kind::Zero);
        let mut jigs = Jigs::new(store);
        let judged = rest.into_iter().filter(|one| one.kind.is_of_a_run()).map(|test| {
            let at = test.taken.unwrap_or(test.saved);
            Ok::<_, Error>(JudgedThen { jig_was_right: jigs.was_right(jig, at.as_second())?, test })
        });
        let judged: Vec<JudgedThen> = judged.collect::<Result<_, _>>()?;
        Ok(Self {
            jig: jig.into(),
            since,
            until,
            lots: lots(store, &judged)?,
            versions: store.used_versions(&filter)?,
            sheets: store.used_sheets(&filter)?,
            doubted: proved.doubted(store)?,
            proved,
            zeros,
            judged,
        })
    }

    /// What said something of the jig within the time.
    pub(crate) fn events(&self) -> impl Iterator<Item = &Event> {
        let second = |time: Option<Timestamp>, or: i64| time.map_or(or, Timestamp::as_second);
        let (since, until) = (second(self.since, i64::MIN), second(self.until, i64::MAX));
        let all = self.proved.history.events.all().iter();
        all.filter(move |one| (since..=until).contains(&one.at_s()))
    }

    /// Of each kind of which there is a test.
    pub(crate) fn counts(&self) -> Vec<(Kind, Count)> {
        let of = |kind| {
            let mut count = Count::default();
            for JudgedThen { test, .. } in self.judged.iter().filter(|one| one.test.kind == kind) {
                match test.verdict {
                    _ if is_void(test) => count.void += 1,
                    Some(Verdict::Pass) => count.pass += 1,
                    Some(Verdict::Fail) => count.fail += 1,
                    Some(Verdict::CannotTell) | None => count.cannot_tell += 1,
                }
            }
            (kind, count)
        };
        let all = Kind::ALL.into_iter().filter(|kind| kind.is_of_a_run()).map(of);
        all.filter(|(_, count)| *count != Count::default()).collect()
    }

    /// Tests that count, and were made while nobody knew whether the jig was right.
    pub(crate) fn unproved(&self) -> usize {
        self.judged.iter().filter(|one| !one.jig_was_right && !is_void(&one.test)).count()
    }

    /// A simulated jig measured at least one of them.
    pub(crate) fn is_simulated(&self) -> bool {
        let tests = self.judged.iter().map(|one| &one.test);
        self.proved.is_simulated || tests.chain(&self.zeros).any(|one| one.simulated)
    }
}

pub(crate) fn is_void(test: &Listed) -> bool {
    latest(&test.details, Key::Void).is_some()
}

/// Those of which the jig tested a unit, the oldest first.
fn lots(store: &Store, judged: &[JudgedThen]) -> Result<Vec<Lot>, Error> {
    let told = judged.iter().filter_map(|one| latest(&one.test.details, Key::Lot));
    let mut names: Vec<&str> = vec![];
    for name in told {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let numbers = names.into_iter().filter_map(|name| store.lot(name).transpose());
    numbers.map(|number| Lot::of(store, number?)).collect()
}
