//! What results for programs have in common, whatever was measured.

use runproof_interpret::Capture;
use runproof_records::{Kept, uuid::Uuid};
use serde::Serialize;

/// The record that was kept.
#[derive(Serialize)]
pub(super) struct Numbered {
    number: i64,
    id: Uuid,
}

impl From<&Kept> for Numbered {
    fn from(kept: &Kept) -> Self {
        Self { number: kept.number, id: kept.id }
    }
}

/// Who measured.
#[derive(Serialize)]
pub(super) struct Jig<'a> {
    serial: &'a str,
    board: &'a str,
    firmware: &'a str,
}

pub(super) fn jig(capture: &Capture) -> Jig<'_> {
    let jig = &capture.head.jig;
    Jig { serial: &jig.serial, board: &jig.board, firmware: &jig.firmware }
}
