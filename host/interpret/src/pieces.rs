//! Known pieces: runs of which it is known what a sound jig says. A jig that says otherwise is out.

mod held;
mod read;

pub use held::{Held, Miss, held};

use serde::{Deserialize, Serialize};

use crate::SheetError;
use crate::judgement::{FindingKind, Verdict};
use crate::limits::ConductorName;

/// Known pieces that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceSet {
    /// What they are called.
    pub name: String,
    /// Which version of what is stated.
    pub version: String,
    /// The day on which their resistances were last measured by a calibrated instrument, as `2026-01-31`.
    pub calibrated: Option<String>,
    /// The day on which that is due again.
    pub due: Option<String>,
    /// In the order in which they are measured.
    pub pieces: Vec<Piece>,
}

/// A known piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    /// What it is called: letters, digits and dashes.
    pub name: String,
    /// What it is.
    pub about: String,
    /// What is said of it.
    pub verdict: Verdict,
    /// The faults that are found, in any order, and no others.
    pub found: Vec<FindingKind>,
    /// Within what each conductor reads, in ohms; one that is not here has no resistance.
    pub ohm: Vec<(ConductorName, [f64; 2])>,
    /// What a calibrated instrument measured of it, in ohms, where it did.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub calibrated_ohm: Vec<(ConductorName, f64)>,
}

/// The pieces that are kept with a jig of this design.
const BUILT_IN: &str = include_str!("../../../firmware/jig/check-pieces.toml");

/// More is no file of a few pieces.
pub const BYTES_MAX: usize = 64 << 10;

impl PieceSet {
    /// The pieces that are kept with a jig of this design: firmware/jig/check-pieces.md.
    #[must_use]
    pub fn built_in() -> Self {
        Self::read(BUILT_IN).unwrap_or_else(|error| unreachable!("a test reads it: {error}"))
    }

    /// The text of those.
    #[must_use]
    pub fn built_in_text() -> &'static str {
        BUILT_IN
    }

    /// From TOML.
    ///
    /// # Errors
    ///
    /// [`SheetError`], with its line.
    pub fn read(text: &str) -> Result<Self, SheetError> {
        read::read(text)
    }

    /// The piece of this name.
    #[must_use]
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|piece| piece.name == name)
    }
}
