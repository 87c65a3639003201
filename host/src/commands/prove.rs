//! `prove`: measures known pieces, and says whether the jig is right.

mod pieces;

use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::judgement::Verdict;
use runproof_interpret::pieces::{BYTES_MAX, Piece, PieceSet, held};
use runproof_interpret::{Capture, RunKnowledge, judge};
use runproof_quality::proof::Event;
use runproof_records::{Kind, Store};

use super::check::{on_port, simulated, waits};
use crate::arguments::{Proofs, Prove};
use crate::error::{Error, ProofError, RecordError};
use crate::exit::Exit;
use crate::files;
use crate::guide::{Guide, Keys};
use crate::jig::{self, Jig};
use crate::recording::{self, of_piece};
use crate::shop::proofs::{Proved, Told};
use crate::show::progress::{Prompts, Screen};
use crate::show::proof as words;
use crate::zeros;

/// The sheet that is stated for the pieces.
const SHEET: &str = "service-24vac";

pub(super) fn run(arguments: Prove) -> Result<Exit, Error> {
    super::lot::takes(arguments.about.unit_of_lot(), Kind::Proof)?;
    let set = set(arguments.pieces.as_deref())?;
    let chosen = chosen(&set, arguments.piece.as_deref())?;
    let keys = Keys::listen();
    let place = match &arguments.simulate {
        Some(folder) => Place::Simulated(pieces::scenes(folder, &chosen)?, arguments.seed),
        None if chosen.len() > 1 && !keys.any() => return Err(ProofError::OneByOne.into()),
        None => Place::Real(arguments.port.clone().map_or_else(jig::the_attached_jig, Ok)?),
    };
    let (sheet, sheet_used) = super::limits::sheet_used(SHEET)?;
    let mut verdict = Verdict::Pass;
    let mut serial = String::new();
    for piece in chosen {
        if let Place::Real(_) = place {
            eprint!("{}", words::clip_on(piece, keys.any()));
            while keys.any() && !keys.pressed() {
                sleep(Duration::from_millis(50));
            }
        }
        let capture = measured(&place, &arguments, piece, &keys)?;
        serial.clone_from(&capture.head.jig.serial);
        let known = RunKnowledge::default();
        let judgement = judge(&capture, &sheet, &known);
        let held = held(piece, &judgement);
        let told = Told { set: (&set).into(), piece: piece.clone() };
        let details = arguments.about.details();
        let record = of_piece(&capture, &judgement, &told, &held, &sheet_used, &details);
        let recorded = recording::keep(&record)?;
        if !arguments.json {
            super::print(&words::piece(piece, &held))?;
        }
        super::told_where(Some(&recorded));
        verdict = verdict.and(held.verdict);
    }
    let Some(store) = recording::store_to_read()? else { return Ok(verdict.into()) };
    let proved = Proved::of(&store, &serial, &set)?;
    super::print(&if arguments.json {
        words::json(&proved, &set)
    } else {
        stands(&store, &proved, &set)?
    })?;
    Ok(match proved.history.events.last() {
        Some(Event::Out { .. }) => Exit::Fail,
        _ => verdict.into(),
    })
}

pub(super) fn proofs(arguments: Proofs) -> Result<Exit, Error> {
    let set = set(arguments.pieces.as_deref())?;
    let Some(store) = recording::store_to_read()? else {
        return Err(RecordError::NothingRecorded.into());
    };
    let jigs = match arguments.jig {
        Some(jig) => vec![jig],
        None => store.proved_jigs()?,
    };
    if jigs.is_empty() {
        return Err(ProofError::NoProof.into());
    }
    let mut exit = Exit::Pass;
    for jig in jigs {
        let proved = Proved::of(&store, &jig, &set)?;
        if proved.history.events.all().is_empty() && proved.history.under_way.is_empty() {
            return Err(ProofError::NoProofOf { jig }.into());
        }
        if let Some(path) = &arguments.to {
            let document = words::document(&proved, &set, super::now_unix_s());
            super::paper::write(path.clone(), &document)?;
        } else if arguments.json {
            super::print(&words::json(&proved, &set))?;
        } else {
            super::print(&stands(&store, &proved, &set)?)?;
        }
        if matches!(proved.history.events.last(), Some(Event::Out { .. })) {
            exit = Exit::Fail;
        }
    }
    Ok(exit)
}

/// How the jig stands, with all that is in doubt because it was found out.
fn stands(store: &Store, proved: &Proved, set: &PieceSet) -> Result<String, Error> {
    let told = words::text(proved, set, super::now_unix_s());
    let doubted = proved.doubted(store)?;
    Ok(told + &doubted.map_or_else(String::new, |all| words::doubted(&all.tests, all.was_proved)))
}

pub(super) fn set(path: Option<&Path>) -> Result<PieceSet, Error> {
    let Some(path) = path else { return Ok(PieceSet::built_in()) };
    let text = files::read(path, BYTES_MAX)?;
    let read = PieceSet::read(&text);
    let set = read.map_err(|source| ProofError::NotPieces { path: path.into(), source })?;
    let built_in = PieceSet::built_in();
    if set.name == built_in.name && set != built_in {
        return Err(ProofError::TakenName { path: path.into(), name: set.name }.into());
    }
    Ok(set)
}

fn chosen<'a>(set: &'a PieceSet, name: Option<&str>) -> Result<Vec<&'a Piece>, ProofError> {
    let Some(name) = name else { return Ok(set.pieces.iter().collect()) };
    let none = || ProofError::NoPiece {
        name: name.into(),
        all: set.pieces.iter().map(|piece| piece.name.as_str()).collect::<Vec<_>>().join(", "),
    };
    Ok(vec![set.piece(name).ok_or_else(none)?])
}

enum Place {
    /// A scene of each piece, and the jig's seed.
    Simulated(Vec<(String, Scene)>, u64),
    /// A port.
    Real(String),
}

fn measured(
    place: &Place,
    arguments: &Prove,
    piece: &Piece,
    keys: &Keys,
) -> Result<Capture, Error> {
    let is_simulated = matches!(place, Place::Simulated(..));
    let conversation = match place {
        Place::Simulated(scenes, seed) => {
            let scene = scenes.iter().find(|(name, _)| *name == piece.name);
            let scene = scene.map(|(_, scene)| scene.clone());
            let none = || ProofError::NoPiece { name: piece.name.clone(), all: String::new() };
            let scene = scene.ok_or_else(none)?;
            simulated(scene, *seed)?
        }
        Place::Real(path) => on_port(path.clone())?,
    };
    let jig = Jig::meet(conversation)?.with(super::now_unix_s(), String::new())?;
    let prompts = Prompts { is_simulated, enter: keys.any(), short: true, ..Prompts::default() };
    let mut screen = Screen::of_zero(prompts);
    let mut tell = |told| screen.tell(told);
    let mut guide = Guide::new(&jig, &mut tell);
    guide.zeroed(zeros::newest(&jig));
    guide.trip(waits(arguments.wait, is_simulated), keys);
    let capture = guide.done();
    screen.clear();
    Ok(capture)
}
