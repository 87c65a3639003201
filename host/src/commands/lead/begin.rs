//! What must be known before the first lead is plugged in: sheet, wire, lot, jig.

use std::sync::{Arc, Mutex, PoisonError};

use runproof_firmware::boards::simulated::{EndPlug, Run, Scene};
use runproof_interpret::judgement::Judgement;
use runproof_interpret::limits::Arrangement;
use runproof_interpret::{Capture, LimitSheet, RunKnowledge, judge};
use runproof_records::{Kind, Sheet, Store};

use crate::arguments::Lead as Arguments;
use crate::commands::check::on_port;
use crate::commands::limits;
use crate::error::{Error, LeadError, LotError};
use crate::guide::lead::Way;
use crate::jig::{self, Conversation, Jig, JigError, Operator, SimulatedPort};
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
    pub(super) way: Way,
    /// What a lead adds at least to each post of socket A, or to each clip.
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
        let way = arguments.way();
        Ok((Self { limits, sheet, known, lot, way, lead_pf }, numbers))
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

/// Where the fixtures are.
pub(super) enum Place {
    /// Their jigs are on these ports.
    Ports(Vec<String>),
    /// Nowhere, so many, with somebody at their sockets.
    Simulated(Arc<Mutex<Operator>>, usize, Way),
}

impl Place {
    pub(super) fn of(arguments: &Arguments) -> Result<Self, Error> {
        let fixtures = arguments.fixtures;
        match arguments.simulate.as_deref() {
            None if arguments.port.is_empty() => Ok(Self::Ports(vec![jig::the_attached_jig()?])),
            None => Ok(Self::Ports(arguments.port.clone())),
            Some("leads") => {
                let operator = Operator::new(arguments.seed, fixtures, arguments.way());
                Ok(Self::Simulated(Arc::new(Mutex::new(operator)), fixtures, arguments.way()))
            }
            Some(name) => Err(LeadError::NoSession { name: name.into() }.into()),
        }
    }

    pub(super) fn is_simulated(&self) -> bool {
        matches!(self, Self::Simulated(..))
    }

    pub(super) fn operator(&self) -> Option<Arc<Mutex<Operator>>> {
        match self {
            Self::Ports(_) => None,
            Self::Simulated(operator, ..) => Some(operator.clone()),
        }
    }

    /// A jig for each fixture; simulated ones are built of parts drawn from `seed`, and the seeds behind it.
    pub(super) fn jigs(&self, seed: u64) -> Result<Vec<Jig>, Error> {
        match self {
            Self::Ports(paths) => paths.iter().map(|path| met(on_port(path.clone())?)).collect(),
            Self::Simulated(operator, fixtures, way) => {
                let jigs = (0..*fixtures).map(|nth| simulated(operator, nth, seed, *way)).collect();
                operator.lock().unwrap_or_else(PoisonError::into_inner).begin();
                jigs
            }
        }
    }
}

fn met(conversation: Conversation) -> Result<Jig, Error> {
    let jig = Jig::meet(conversation)?.with(crate::commands::now_unix_s(), String::new())?;
    if jig.knows_fixtures() { Ok(jig) } else { Err(JigError::KnowsNoFixture.into()) }
}

fn simulated(
    operator: &Arc<Mutex<Operator>>,
    nth: usize,
    seed: u64,
    way: Way,
) -> Result<Jig, Error> {
    let (operator, scene) = (operator.clone(), bench(Operator::nothing(seed), way)?);
    let of_jig = seed.wrapping_add(nth as u64);
    let port = move || Ok(SimulatedPort::worked(scene, of_jig, operator, nth));
    met(Conversation::begin("the simulated jig", port)?)
}

/// Sockets have better contacts than clips, and the jig switches their ring; by clips the key stays in the tail. (judgement)
fn bench(run: Run, way: Way) -> Result<Scene, Error> {
    let mut scene = Scene::built_in("good-run")?;
    scene.about = "A bench for made-up leads.".into();
    scene.run = run;
    scene.plug = EndPlug::In;
    if way == Way::Fixture {
        scene.plug = EndPlug::Switched;
        scene.jig.contact_mohm = 30.0;
    }
    Ok(scene)
}

#[cfg(test)]
mod tests {
    use runproof_protocol::{Lamp, Signs, Tune};

    use super::*;
    use crate::guide::{Event, Station};

    /// Its relays have welded, or the ring is on another pin: nothing that is measured of a lead's isolation is the lead's.
    #[test]
    fn a_ring_that_stays_ends_the_session() {
        let operator = Arc::new(Mutex::new(Operator::new(1, 1, Way::Fixture)));
        let mut scene = bench(Operator::nothing(1), Way::Fixture).expect("a fixture");
        scene.plug = EndPlug::In;
        let hands = operator.clone();
        let port = move || Ok(SimulatedPort::worked(scene, 1, hands, 0));
        let jig = met(Conversation::begin("a jig", port).expect("it answers")).expect("a jig");
        operator.lock().expect("nobody has fallen").begin();
        let (sheet, known) =
            (LimitSheet::built_in(SHEET).expect("a sheet"), RunKnowledge::default());
        let judged = |capture: &Capture| judge(capture, &sheet, &known);
        let mut station = Station::new(&jig, None, Way::Fixture, 80.0, &judged);
        assert!(matches!(station.next(&|| false), Event::Ready));
        jig.show(Signs::all(Lamp::DARK, Tune::Next));
        station.pause(200_000);
        assert!(matches!(station.next(&|| false), Event::RingStays));
    }
}
