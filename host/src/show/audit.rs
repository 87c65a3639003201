//! An audit of a jig as a document, and for programs.

mod grids;
mod json;

use runproof_interpret::Capture;
use runproof_interpret::pieces::PieceSet;
use runproof_records::jiff::Timestamp;

use self::grids::{counts, events, evidence, lots, rejected, sheets, tests, versions, zeros};
pub(crate) use self::json::json;
use super::described::Row;
use super::document::{Block, Document, Heading, Section};
use super::proof::{as_rows, heading};
use super::words::audit as said;
use super::words::{self, proof};
use crate::recording::PROGRAM;
use crate::shop::audit::{Audit, is_void};

pub(crate) fn document(audit: &Audit, set: &PieceSet, kept: &[Capture], now_s: u64) -> Document {
    let period = said::period(audit.since, audit.until);
    let heading = Heading {
        below: Some(format!("Audit of jig {}: {period}; by {PROGRAM}", audit.jig)),
        ..heading(&audit.proved, set, now_s)
    };
    let mut blocks = vec![];
    if audit.is_simulated() {
        blocks.push(Block::Alarm(Row::new("SIMULATED", proof::SIMULATED)));
    }
    let count = audit.judged.iter().filter(|one| !is_void(&one.test)).count();
    let mut rows = vec![
        Row::new("period", period),
        Row::new("pieces", proof::pieces(set)),
        Row::new("calibrated", proof::calibrated(set, now_s)),
        Row::new("proofs", proof::proofs(&audit.proved.history)),
        Row::new("zeros", said::kept_zeros(kept.len(), newest(kept))),
    ];
    rows.extend((count > 0).then(|| Row::new("proved", said::unproved(audit.unproved(), count))));
    rows.push(Row::new("not on record", said::NOT_ON_RECORD));
    blocks.push(Block::Rows(rows));
    blocks.extend(in_doubt(audit));
    let parts = [
        (said::PROOFS, events(audit), said::NO_PROOFS),
        (said::ZEROS, zeros(audit), said::NO_ZEROS),
        (said::COUNTS, counts(audit), said::NO_TESTS),
        (said::REJECTED, rejected(audit), said::NONE_FAILED),
        (said::LOTS, lots(audit), said::NO_LOTS),
        (said::VERSIONS, versions(audit), said::NO_TESTS),
        (said::SHEETS, sheets(audit), said::NO_TESTS),
        (said::TESTS, tests(audit), said::NO_TESTS),
        (said::EVIDENCE, evidence(audit), said::NO_TESTS),
    ];
    for (name, grid, none) in parts {
        blocks.push(Block::Below(name));
        blocks.push(match grid.rows.is_empty() {
            true => Block::List(vec![none.into()]),
            false => Block::Grid(grid),
        });
    }
    Document {
        title: format!("Audit of jig {}", audit.jig),
        sections: vec![Section { id: "audit".into(), heading, blocks }],
    }
}

/// All that was measured before the jig was found out.
fn in_doubt(audit: &Audit) -> Vec<Block> {
    let mut blocks = vec![Block::Below(said::IN_DOUBT)];
    match &audit.doubted {
        None => blocks.push(Block::List(vec![said::NOT_FOUND_OUT.into()])),
        Some(doubted) => {
            let count = doubted.tests.len();
            blocks.push(Block::List(vec![proof::doubted(count, doubted.was_proved)]));
            blocks.extend((count > 0).then(|| Block::Grid(as_rows(&doubted.tests))));
        }
    }
    blocks
}

fn newest(kept: &[Capture]) -> Option<Timestamp> {
    let taken = kept.iter().filter_map(|one| one.head.taken_unix_s).max()?;
    Timestamp::from_second(i64::try_from(taken).ok()?).ok()
}

fn moment(at: Option<Timestamp>) -> String {
    at.map_or_else(|| said::NOT_KEPT.into(), words::lot::moment)
}
