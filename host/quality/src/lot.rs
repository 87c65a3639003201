//! A lot from its declaration to its decision.
//!
//! A lot is [`Declared`] before anything is known of it: so many units, how it is decided, the seed that units are drawn
//! from. Every unit's identity is looked at ([`Look`]), those that were drawn are tested ([`Test`]), and [`stand`] says what
//! follows: [`Decision`]. Of a series of lots [`due`] says how severely the next one is inspected.

mod acceptance;
mod decision;
mod identity;
mod measured;
mod ranges;
mod series;
mod tested;
mod worth;

pub use acceptance::{Acceptance, Drawn, NotDeclared, UNITS_MAX};
pub use decision::{Decision, Stand, stand};
pub use identity::{Identity, Look, Mark};
pub use measured::Measured;
pub use ranges::{NoRange, Range, Ranges};
pub use series::{Closed, Due, due};
pub use tested::{Outcome, Test, Tested};
pub use worth::Worth;

use serde::{Deserialize, Serialize};

/// A lot as it was declared.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Declared {
    /// Lots of the same thing from the same source: what is due of one follows from those before it.
    pub series: String,
    /// How many units it has; they are numbered from 1.
    pub units: u32,
    /// How it is decided.
    pub acceptance: Acceptance,
    /// What the units to test are drawn from.
    pub seed: u64,
    /// It was rejected before, and sorted: it does not count in its series.
    pub again: bool,
}
