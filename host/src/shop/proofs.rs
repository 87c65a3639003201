//! How jigs were proved, from the records of their known pieces.

use std::collections::HashMap;

use runproof_interpret::judgement::Verdict;
use runproof_interpret::pieces::{Held, Piece, PieceSet};
use runproof_quality::proof::{self, Events, History, Reading};
use runproof_records::jiff::Timestamp;
use runproof_records::{Filter, Listed, PieceTest, Store};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::error::Error;

/// What is kept of a piece beside what the jig said of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Told {
    pub(crate) set: Set,
    pub(crate) piece: Piece,
}

/// Pieces that belong together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Set {
    pub(crate) name: String,
    pub(crate) version: String,
    /// The names of all of them: so many make a proof.
    pub(crate) pieces: Vec<String>,
}

impl From<&PieceSet> for Set {
    fn from(set: &PieceSet) -> Self {
        Self {
            name: set.name.clone(),
            version: set.version.clone(),
            pieces: set.pieces.iter().map(|piece| piece.name.clone()).collect(),
        }
    }
}

/// A jig, and how it was over time.
pub(crate) struct Proved {
    pub(crate) jig: String,
    pub(crate) history: History,
    pub(crate) is_simulated: bool,
}

impl Proved {
    /// The jig of this serial, by these pieces.
    pub(crate) fn of(store: &Store, jig: &str, set: &PieceSet) -> Result<Self, Error> {
        let tests = store.piece_tests(jig)?;
        let is_simulated = tests.iter().any(|test| test.simulated);
        let history = history(&tests, &set.into());
        Ok(Self { jig: jig.to_owned(), history, is_simulated })
    }

    /// All that the jig measured between the two proofs between which it was last found out, and whether it was proved before;
    /// none where it never was found out. Times are whole seconds, so what is of the same second as either of the two is in
    /// doubt as well.
    pub(crate) fn doubted(&self, store: &Store) -> Result<Option<Doubted>, Error> {
        let Some((since, until)) = self.history.events.last_doubt_s() else { return Ok(None) };
        let time = |s: Option<i64>| s.and_then(|s| Timestamp::from_second(s).ok());
        let until = until.map(|s| s.saturating_add(1));
        let filter = Filter {
            jig: Some(self.jig.clone()),
            since: time(since),
            until: time(until),
            not_void: true,
            ..Filter::default()
        };
        let mut tests = vec![];
        store.each(&filter, &mut |one| {
            if one.kind.is_of_a_run() {
                tests.push(one);
            }
        })?;
        Ok(Some(Doubted { tests, was_proved: since.is_some() }))
    }
}

/// What a jig measured before it was found out.
pub(crate) struct Doubted {
    /// The newest first.
    pub(crate) tests: Vec<Listed>,
    /// It was proved before.
    pub(crate) was_proved: bool,
}

/// Whether jigs were right when they measured something, by whatever pieces they were proved; each is looked up once.
pub(crate) struct Jigs<'a> {
    store: &'a Store,
    known: HashMap<String, Events>,
}

impl<'a> Jigs<'a> {
    pub(crate) fn new(store: &'a Store) -> Self {
        Self { store, known: HashMap::new() }
    }

    pub(crate) fn was_right(&mut self, jig: &str, at_s: i64) -> Result<bool, Error> {
        if !self.known.contains_key(jig) {
            let events = events(&self.store.piece_tests(jig)?);
            self.known.insert(jig.to_owned(), events);
        }
        Ok(self.known.get(jig).is_some_and(|events| events.was_right(at_s)))
    }
}

fn events(tests: &[PieceTest]) -> Events {
    let sets = tests.iter().filter_map(told).map(|told| told.set);
    let last_of_each: HashMap<String, Set> = sets.map(|set| (set.name.clone(), set)).collect();
    let histories = last_of_each.values().map(|set| history(tests, set).events);
    Events::of(histories.flat_map(Events::into_iter))
}

fn history(tests: &[PieceTest], set: &Set) -> History {
    let pieces: Vec<proof::Piece> =
        tests.iter().filter_map(|test| piece(test, &set.name)).collect();
    let names: Vec<&str> = set.pieces.iter().map(String::as_str).collect();
    History::of(&pieces, &names)
}

fn told(test: &PieceTest) -> Option<Told> {
    serde_json::from_str(&test.told).ok()
}

/// None of other pieces, or of a record that says none.
fn piece(test: &PieceTest, set: &str) -> Option<proof::Piece> {
    let told = told(test).filter(|told| told.set.name == set)?;
    // That a jig was out is taken back by a new proof alone.
    if test.void && test.verdict != Some(Verdict::Fail) {
        return None;
    }
    let is_as_stated = match test.verdict? {
        Verdict::Pass => Some(true),
        Verdict::Fail => Some(false),
        Verdict::CannotTell => None,
    };
    let result: Value = serde_json::from_str(&test.result).ok()?;
    let conductors = result["conductors"].as_array().map_or(&[][..], Vec::as_slice);
    let readings = conductors.iter().filter_map(|one| {
        let of = format!("{}, {}", told.piece.name, one["name"].as_str()?);
        Some(Reading { of, ohm: one["resistance_ohm"].as_f64()? })
    });
    Some(proof::Piece {
        at_s: test.at.as_second(),
        is_as_stated,
        readings: readings.collect(),
        name: told.piece.name,
    })
}

/// What is kept as a result: what the jig said, and what follows from it.
pub(crate) fn result(judgement: &str, held: &Held) -> String {
    let mut all: Value = serde_json::from_str(judgement).unwrap_or_default();
    all["piece_held"] = serde_json::to_value(held).unwrap_or_default();
    all.to_string()
}
