//! Lots by sample: how many units are tested, which ones, and what follows for the lot.
//!
//! - by the tables: [`Inspection::of`] (MIL-STD-105E), lot after lot [`Switching`];
//! - so that bad lots are found: [`zero_acceptance`];
//! - of a measured value: [`variables`];
//! - which units: [`draw`];
//! - what a plan is worth: [`Plan`]'s figures, and [`chance_of_finding`].

mod aql;
mod draw;
mod figures;
mod inspection;
mod letter;
mod level;
mod plan;
mod switching;
mod tables;
pub mod variables;
mod zero_acceptance;

pub use aql::Aql;
pub use draw::{NotEnoughUnits, draw};
pub use figures::{
    AlwaysAccepted, NoProducersRisk, NotSoMany, OperatingPoint, OutgoingLimit, chance_of_finding,
};
pub use inspection::{Inspection, NoInspection};
pub use letter::CodeLetter;
pub use level::{Level, Severity};
pub use plan::{NotAPlan, Outcome, Plan};
pub use switching::{Edition, NotCounted, Reduction, Switch, Switched, Switching};
pub use zero_acceptance::{NoZeroAcceptance, ZeroAcceptance, zero_acceptance};
