//! What a jig says of a known piece, held against what is stated of it.

use serde::Serialize;

use super::Piece;
use crate::judgement::{FindingKind, Judgement, Severity, Verdict};
use crate::limits::ConductorName;

/// What follows for the jig from one piece.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Held {
    /// Pass: all is as stated. Fail: something is otherwise. Cannot tell: the jig could not measure the piece.
    pub verdict: Verdict,
    /// What is otherwise.
    pub misses: Vec<Miss>,
}

/// Something that is otherwise than stated.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "miss", rename_all = "kebab-case")]
pub enum Miss {
    /// The verdict.
    Verdict {
        /// As it was told.
        told: Verdict,
        /// As it should be.
        stated: Verdict,
    },
    /// A fault of the piece was not found.
    NotFound {
        /// Which.
        kind: FindingKind,
    },
    /// A fault was found that the piece has not.
    FoundBeside {
        /// Which.
        kind: FindingKind,
    },
    /// A conductor reads otherwise.
    Ohm {
        /// Which.
        conductor: ConductorName,
        /// As it was read; absent where it has none.
        read_ohm: Option<f64>,
        /// Within what it should be; absent where it should have none.
        stated_ohm: Option<[f64; 2]>,
    },
}

/// What is said of a piece, held against what is stated of it.
#[must_use]
pub fn held(piece: &Piece, judgement: &Judgement) -> Held {
    let misses = misses(piece, judgement);
    let was_told = judgement.verdict != Verdict::CannotTell || piece.verdict == Verdict::CannotTell;
    let verdict = match (misses.is_empty(), was_told) {
        (true, _) => Verdict::Pass,
        (false, true) => Verdict::Fail,
        (false, false) => Verdict::CannotTell,
    };
    Held { verdict, misses }
}

fn misses(piece: &Piece, judgement: &Judgement) -> Vec<Miss> {
    let mut misses = vec![];
    if judgement.verdict != piece.verdict {
        misses.push(Miss::Verdict { told: judgement.verdict, stated: piece.verdict });
    }
    let faults = judgement.findings.iter().filter(|one| one.severity == Severity::Fail);
    let faults: Vec<FindingKind> = faults.map(|one| one.kind).collect();
    let missing = piece.found.iter().filter(|kind| !faults.contains(kind));
    misses.extend(missing.map(|kind| Miss::NotFound { kind: *kind }));
    let beside = faults.iter().filter(|kind| !piece.found.contains(kind));
    misses.extend(beside.map(|kind| Miss::FoundBeside { kind: *kind }));
    for conductor in ConductorName::FOUR {
        let read = judgement.conductors.iter().find(|one| one.name == conductor);
        let read_ohm = read.and_then(|one| one.resistance_ohm);
        let stated = piece.ohm.iter().find(|(name, _)| *name == conductor);
        let stated_ohm = stated.map(|(_, within)| *within);
        let is_as_stated = match (read_ohm, stated_ohm) {
            (Some(ohm), Some([least, most])) => ohm >= least && ohm <= most,
            (read, stated) => read.is_none() && stated.is_none(),
        };
        if !is_as_stated {
            misses.push(Miss::Ohm { conductor, read_ohm, stated_ohm });
        }
    }
    misses
}
