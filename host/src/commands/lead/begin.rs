//! What must be known before the first lead is plugged in: sheet, wire, lot, jig.

use std::sync::{Arc, Mutex};

use runproof_firmware::boards::simulated::{EndPlug, Run, Scene};
use runproof_interpret::judgement::Judgement;
use runproof_interpret::limits::Arrangement;
use runproof_interpret::{Capture, LimitSheet, RunKnowledge, judge};
use runproof_records::{Kind, Sheet, Store};

use crate::arguments::Lead as Arguments;
use crate::commands::check::on_port;
use crate::commands::limits;
use crate::error::{Error, LeadError, LotError};
use crate::jig::{self, Conversation, Jig, Operator, SimulatedPort};
use crate::recording;
use crate::shop::leads::{Numbers, tested};
use crate::shop::lots::Lot;

const SHEET: &str = "made-up-lead";

/// A lead that adds less than this cannot be told from what an empty socket varies by. (judgement)
const LEAST_PF: f64 = 25.0;

pub(super) struct Begun {
    pub(super) limits: LimitSheet,
    pub(super) sheet: Sheet,
    pub(super) known: RunKnowledge,
    pub(super) lot: Option<Lot>,
    /// What a lead adds at least to each post of socket A.
    pub(super) lead_pf: f64,
}

impl Begun {
    /// With the numbers of the leads.
    pub(super) fn of(arguments: &Arguments) -> Result<(Self, Numbers), Error> {
        let known = arguments.told();
        let missing = match (known.gauge, known.length) {
            (None, None) => Some("the leads' gauge and length"),
            (None, _) => Some("the leads' gauge"),
            (_, None) => Some("the leads' length"),
            _ => None,
        };
        if let Some(missing) = missing {
            return Err(LeadError::NoWire { missing }.into());
        }
        let store = recording::store_to_read()?;
        let lot = match (&store, &arguments.lot) {
            (None, Some(name)) => return Err(LotError::NoLot { name: name.clone() }.into()),
            (Some(store), name) => lot(store, name.as_deref())?,
            (None, None) => None,
        };
        let (limits, sheet) = match lot.as_ref().and_then(Lot::sheet) {
            Some(of_lot) => of_lot,
            None => limits::sheet_used(SHEET)?,
        };
        if let Some(lot) = lot.as_ref().filter(|_| limits.arrangement != Arrangement::Lead) {
            let name = lot.name.clone();
            return Err(LeadError::NotOfLeads { name, sheet: sheet.name }.into());
        }
        let lead_pf = lead_pf(&limits, &known)?;
        let numbers = numbers(store.as_ref(), lot.as_ref(), arguments.from)?;
        Ok((Self { limits, sheet, known, lot, lead_pf }, numbers))
    }

    pub(super) fn judged(&self, capture: &Capture) -> Judgement {
        judge(capture, &self.limits, &self.known)
    }
}

/// The lot of this name, if it takes leads.
pub(super) fn lot(store: &Store, name: Option<&str>) -> Result<Option<Lot>, Error> {
    let Some(name) = name else { return Ok(None) };
    let lot = Lot::named(store, name)?;
    lot.takes(1, Kind::Check)?;
    Ok(Some(lot))
}

fn lead_pf(limits: &LimitSheet, known: &RunKnowledge) -> Result<f64, Error> {
    let none = || LeadError::NoCapacitance { sheet: limits.name.clone() };
    let per_metre_pf = limits.capacitance.as_ref().ok_or_else(none)?.least;
    let metres = known.length.map_or(0.0, |length| length.metres());
    let picofarads = per_metre_pf * metres;
    if picofarads < LEAST_PF {
        return Err(LeadError::TooShort { metres, picofarads, needed: LEAST_PF }.into());
    }
    Ok(picofarads)
}

fn numbers(store: Option<&Store>, lot: Option<&Lot>, from: u32) -> Result<Numbers, Error> {
    let (Some(store), Some(lot)) = (store, lot) else {
        return Ok(Numbers::new([], from, u32::MAX));
    };
    let units = lot.opened.declared.units;
    let numbers = Numbers::new(tested(store, lot)?, from, units);
    if numbers.next().is_none() {
        return Err(LeadError::LotIsFull { name: lot.name.clone(), units }.into());
    }
    Ok(numbers)
}

/// Where the jig is.
pub(super) enum Place {
    /// On this port.
    Port(String),
    /// Nowhere, with somebody at its sockets.
    Simulated(Arc<Mutex<Operator>>),
}

impl Place {
    pub(super) fn of(arguments: &Arguments) -> Result<Self, Error> {
        match arguments.simulate.as_deref() {
            None => Ok(Self::Port(arguments.port.clone().map_or_else(jig::the_attached_jig, Ok)?)),
            Some("leads") => {
                Ok(Self::Simulated(Arc::new(Mutex::new(Operator::new(arguments.seed)))))
            }
            Some(name) => Err(LeadError::NoSession { name: name.into() }.into()),
        }
    }

    pub(super) fn is_simulated(&self) -> bool {
        matches!(self, Self::Simulated(_))
    }

    pub(super) fn operator(&self) -> Option<Arc<Mutex<Operator>>> {
        match self {
            Self::Port(_) => None,
            Self::Simulated(operator) => Some(operator.clone()),
        }
    }

    pub(super) fn jig(&self, seed: u64) -> Result<Jig, Error> {
        let conversation = match self {
            Self::Port(path) => on_port(path.clone())?,
            Self::Simulated(operator) => {
                let (operator, fixture) = (operator.clone(), fixture(Operator::nothing(seed))?);
                let port = move || Ok(SimulatedPort::worked(fixture, seed, operator));
                Conversation::begin("the simulated jig", port)?
            }
        };
        Ok(Jig::meet(conversation)?.with(crate::commands::now_unix_s(), String::new())?)
    }
}

/// Sockets have better contacts than clips; the ring stays in. (judgement)
fn fixture(run: Run) -> Result<Scene, Error> {
    let mut scene = Scene::built_in("good-run")?;
    scene.about = "A mated fixture for made-up leads.".into();
    scene.run = run;
    scene.plug = EndPlug::In;
    scene.jig.contact_mohm = 30.0;
    Ok(scene)
}
