//! Lots as they are kept: a record of the lot, what was said about it, and the records of its units' tests.

use std::collections::BTreeSet;

use runproof_interpret::LimitSheet;
use runproof_interpret::judgement::Verdict;
use runproof_quality::lot::{
    self, Acceptance, Decision, Declared, Look, Outcome, Ranges, Stand, Test, stand,
};
use runproof_quality::sampling::Severity;
use runproof_records::jiff::Timestamp;
use runproof_records::{Detail, Key, Kind, Record, Sheet, Store, StoreError, UnitTest, latest};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::proofs::Jigs;
use crate::error::{Error, LotError};
use crate::recording;

/// A lot, and what is known of it.
#[derive(Debug)]
pub(crate) struct Lot {
    /// Its record's number here.
    pub(crate) number: i64,
    pub(crate) name: String,
    pub(crate) record: Record,
    pub(crate) opened: Opened,
    pub(crate) closed: Option<Closed>,
    /// By what is known now.
    pub(crate) stand: Stand,
    pub(crate) not_counted: NotCounted,
    /// Tests that failed, and were voided or moved to another lot.
    pub(crate) struck: Vec<Struck>,
    /// By which jigs what counts was measured, from when to when.
    pub(crate) jigs: BTreeSet<String>,
    pub(crate) measured: Option<(Timestamp, Timestamp)>,
    /// A simulated jig measured at least one test that counts.
    pub(crate) is_simulated: bool,
}

/// What is kept of a lot when it is opened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Opened {
    #[serde(flatten)]
    pub(crate) declared: Declared,
    /// The kind of test that counts.
    pub(crate) test: Kind,
    /// Production is steady, and inspection may be reduced.
    pub(crate) may_reduce: bool,
    /// What was due by the lots before it, where the tables decide; none: nothing, as inspection had ended.
    #[serde(default)]
    pub(crate) due: Option<Severity>,
    /// The seed was not drawn, but told.
    #[serde(default)]
    pub(crate) seed_told: bool,
}

/// A test that failed, and is no longer one of its lot.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Struck {
    pub(crate) number: i64,
    pub(crate) unit: String,
    /// Why; none: it was said to be of another lot.
    pub(crate) void: Option<String>,
}

/// What is kept of a lot when it is closed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Closed {
    pub(crate) decision: Decision,
    /// Of its sample.
    pub(crate) nonconforming: Ranges,
    pub(crate) disposition: String,
}

/// Tests of its units that do not count, and why.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub(crate) struct NotCounted {
    pub(crate) other_test: u32,
    pub(crate) other_sheet: u32,
    /// The unit is none of its numbers.
    pub(crate) no_unit: u32,
}

impl Lot {
    pub(crate) fn named(store: &Store, name: &str) -> Result<Self, Error> {
        let name = name.trim();
        let found = store.lot(name).map_err(|error| match error {
            StoreError::Several { count, .. } => {
                LotError::Several { name: name.into(), count }.into()
            }
            other => Error::from(other),
        })?;
        let number = found.ok_or_else(|| LotError::NoLot { name: name.into() })?;
        Self::of(store, number)
    }

    /// By its record's number.
    pub(crate) fn of(store: &Store, number: i64) -> Result<Self, Error> {
        let record = store.record(number)?;
        let name = latest(&record.details, Key::Lot).unwrap_or_default().to_owned();
        let opened: Opened = read(&name, &record.told)?;
        let closed = latest(&record.details, Key::Closed).map(|text| read(&name, text));
        let looks = record.details.iter().filter(|one| one.key == Key::Identity);
        let looks: Vec<Look> =
            looks.map(|one| read(&name, &one.value)).collect::<Result<_, _>>()?;
        let (struck, all): (Vec<UnitTest>, Vec<UnitTest>) =
            store.unit_tests(number)?.into_iter().partition(|one| !one.counts());
        let struck = struck.into_iter().filter(|one| one.verdict == Some(Verdict::Fail));
        let struck = struck
            .map(|one| Struck { number: one.number, unit: one.unit, void: one.void })
            .collect();
        let mut jigs = Jigs::new(store);
        let mut not_counted = NotCounted::default();
        let counted: Vec<(&UnitTest, Test)> = all
            .iter()
            .filter_map(|one| Some((one, test(one, &opened, &mut not_counted)?)))
            .collect();
        let jigs_used = counted.iter().map(|(one, _)| one.jig.clone()).collect();
        let times = || counted.iter().map(|(one, _)| one.at);
        let measured = times().min().zip(times().max());
        let is_simulated = counted.iter().any(|(one, _)| one.simulated);
        let mut tests = vec![];
        for (one, test) in counted {
            let jig_is_proved = jigs.was_right(&one.jig, one.at.as_second())?;
            let of_limit = match opened.declared.acceptance {
                Acceptance::Variables(_) => of_limit(&store.result(one.number)?),
                _ => None,
            };
            tests.push(Test { jig_is_proved, of_limit, ..test });
        }
        let stand = stand(&opened.declared, &looks, &tests).map_err(LotError::NotDeclared)?;
        let closed = closed.transpose()?;
        Ok(Self {
            number,
            name,
            record,
            opened,
            closed,
            stand,
            not_counted,
            struck,
            jigs: jigs_used,
            measured,
            is_simulated,
        })
    }

    /// The lots of a series that were closed, in that order.
    pub(crate) fn closed_of(store: &Store, series: &str) -> Result<Vec<lot::Closed>, Error> {
        let mut all = vec![];
        for number in store.lots()? {
            let record = store.record(number)?;
            let name = latest(&record.details, Key::Lot).unwrap_or_default();
            let opened: Opened = read(name, &record.told)?;
            if opened.declared.series.to_lowercase() != series.to_lowercase() {
                continue;
            }
            let last =
                record.details.iter().filter(|one| one.key == Key::Closed).max_by_key(|one| one.id);
            let Some(last) = last else { continue };
            let closed: Closed = read(name, &last.value)?;
            let nonconforming = closed.nonconforming.units().count() as u32;
            let closed =
                lot::Closed { declared: opened.declared, nonconforming, decision: closed.decision };
            all.push((last.id, closed));
        }
        all.sort_by_key(|(id, _)| *id);
        Ok(all.into_iter().map(|(_, closed)| closed).collect())
    }

    /// It was accepted for good, and by what is known now it would not be.
    pub(crate) fn is_in_doubt(&self) -> bool {
        let accepted = |decision| {
            matches!(decision, Decision::Accept | Decision::AcceptBackToNormal | Decision::Sorted)
        };
        let was = self.closed.as_ref().is_some_and(|closed| accepted(closed.decision));
        was && !accepted(self.stand.decision)
    }

    /// For a test that is about to begin.
    pub(crate) fn takes(&self, unit: u32, test: Kind) -> Result<(), LotError> {
        let name = self.name.clone();
        let units = self.opened.declared.units;
        if let Some(closed) = &self.closed {
            return Err(LotError::Closed { name, said: closed.disposition.clone() });
        }
        if !(1..=units).contains(&unit) {
            return Err(LotError::NoUnit { name, units, unit });
        }
        if test != self.opened.test {
            return Err(LotError::OtherTest { name, test: self.opened.test });
        }
        Ok(())
    }

    /// The limit sheet that its units are judged by.
    pub(crate) fn sheet(&self) -> Option<(LimitSheet, Sheet)> {
        let sheet = self.record.sheet.clone()?;
        Some((LimitSheet::read(&sheet.text).ok()?, sheet))
    }
}

/// A lot\'s own record.
pub(crate) fn record_of(name: &str, opened: &Opened, sheet: Sheet, details: Vec<Detail>) -> Record {
    let named = Detail::new(Key::Lot, name);
    Record {
        id: Record::new_id(),
        kind: Kind::Lot,
        // In whole seconds, as captures are: what comes in the same one stands in the order in which it was kept.
        taken: Timestamp::from_second(named.said.as_second()).ok(),
        zone: Record::zone_here(),
        verdict: None,
        said: format!("a lot of {} units, {}", opened.declared.units, opened.declared.series),
        found: vec![],
        simulated: false,
        jig: String::new(),
        board: String::new(),
        firmware: String::new(),
        program: recording::PROGRAM.into(),
        sheet: Some(sheet),
        told: recording::text(opened),
        result: "{}".into(),
        capture: String::new(),
        details: [vec![named], details].concat(),
    }
}

fn read<T: DeserializeOwned>(name: &str, text: &str) -> Result<T, LotError> {
    serde_json::from_str(text)
        .map_err(|source| LotError::Unreadable { name: name.to_owned(), source })
}

/// None of one that does not count.
fn test(one: &UnitTest, opened: &Opened, not_counted: &mut NotCounted) -> Option<Test> {
    let unit = one.unit.trim().parse().ok().filter(|unit| *unit <= opened.declared.units);
    let Some(unit) = unit.filter(|unit| *unit > 0) else {
        not_counted.no_unit += 1;
        return None;
    };
    if one.kind != opened.test {
        not_counted.other_test += 1;
        return None;
    }
    if !one.by_the_lots_sheet {
        not_counted.other_sheet += 1;
        return None;
    }
    let outcome = match one.verdict? {
        Verdict::Pass => Outcome::Pass,
        Verdict::Fail => Outcome::Fail,
        Verdict::CannotTell => Outcome::CannotTell,
    };
    Some(Test { unit, outcome, jig_is_proved: false, of_limit: None })
}

/// The most that any conductor has of its limit, as a part of that; none where one has no resistance or no limit, or where
/// anything else than resistance is against the unit.
fn of_limit(result: &Value) -> Option<f64> {
    const BY_RESISTANCE: [&str; 2] = ["high-resistance", "too-close-to-limit"];
    let is_other = |one: &&Value| {
        let kind = one["kind"].as_str().unwrap_or_default();
        one["severity"] == "fail" && !BY_RESISTANCE.contains(&kind)
    };
    if result["findings"].as_array()?.iter().any(|one| is_other(&one)) {
        return None;
    }
    let conductors = result["conductors"].as_array().filter(|all| !all.is_empty())?;
    conductors.iter().try_fold(0.0_f64, |most, one| {
        let limit_ohm = one["limit_ohm"].as_f64().filter(|ohm| *ohm > 0.0)?;
        Some(most.max(one["resistance_ohm"].as_f64()? / limit_ohm))
    })
}
