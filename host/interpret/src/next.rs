//! The next step of a case: from what is known so far, by a file of steps that a trainer can change.
//!
//! [`Steps`] is the file, read and walked once through. [`Known`] is what captures, the telephone and answers give.
//! [`Known::advice`] is what follows: what is ruled out, and the one next step.

mod advice;
mod bench;
mod condition;
mod error;
mod fact;
mod from_check;
mod from_live;
mod known;
mod near;
mod read;
mod readings;
mod reopened;
mod step;
mod text;
mod walk;

pub use advice::{Advice, Evidence, RuledOut};
pub use bench::{Bench, Change, Ends, Power};
pub use error::FactError;
pub use fact::{Fact, Kind, Value};
pub use from_check::of_check;
pub use from_live::of_live;
pub use known::{Contradiction, Impossible, Known, Origin, Settled};
pub use readings::{Reading, Readings, Source};
pub use step::{Act, Hands, Never, Step, Suspect, Wiring};
pub use walk::Walked;

use crate::limits::SheetError;

/// Why a text is not a file of steps: the line, the key, the reason.
pub type StepsError = SheetError;

/// A longer text is refused. The built-in one takes about 50 kB.
pub const BYTES_MAX: usize = 256 << 10;

/// The file that is used where none is named.
pub const BUILT_IN: &str = include_str!("next/steps.toml");

/// Facts, suspects and steps, in the order of their file.
#[derive(Clone, Debug, PartialEq)]
pub struct Steps {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// What it is for.
    pub about: String,
    /// The limit sheets whose runs its figures are for.
    pub sheets: Vec<String>,
    /// What can be known of a case.
    pub facts: Vec<Fact>,
    /// What cannot be together.
    pub nevers: Vec<Never>,
    /// What shows the symptom.
    pub suspects: Vec<Suspect>,
    /// What can be done; the first that fits is the next one.
    pub steps: Vec<Step>,
    /// What walking through it found.
    pub walked: Walked,
}

impl Steps {
    /// Reads a file of steps from TOML, and walks it through: whatever is answered, it comes to an end.
    pub fn read(text: &str) -> Result<Self, StepsError> {
        read::read(text, &[])
    }

    /// The same, for runs of limit sheets that are not built in as well: their names.
    pub fn read_for(text: &str, own_sheets: &[&str]) -> Result<Self, StepsError> {
        read::read(text, own_sheets)
    }

    /// The same without the walk, for whoever reads many that are nearly alike.
    pub fn read_unwalked(text: &str) -> Result<Self, StepsError> {
        read::read_only(text)
    }

    /// The one that comes with the program; a test walks it through.
    #[must_use]
    pub fn built_in() -> Self {
        Self::read_unwalked(BUILT_IN).expect("a test reads it")
    }

    /// The fact of this key, by its place.
    #[must_use]
    pub fn fact(&self, key: &str) -> Option<usize> {
        self.facts.iter().position(|fact| fact.key == key)
    }
}
