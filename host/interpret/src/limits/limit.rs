//! A limit: its value and unit, what it means to be beyond it, and where it comes from.

use serde::{Deserialize, Serialize};

use super::{ExplainsComplaint, Severity};

/// One limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// In its unit.
    pub value: f64,
    /// Of the value.
    pub unit: LimitUnit,
    /// What it means to be beyond it: fail or note.
    pub severity: Severity,
    /// Whether being beyond it would explain why someone was called.
    pub explains_complaint: ExplainsComplaint,
    /// Where the limit comes from.
    pub source: String,
}

/// Of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LimitUnit {
    /// Ω
    Ohm,
    /// %
    Percent,
    /// m
    Metre,
    /// V
    Volt,
    /// pF/m
    PicofaradPerMetre,
    /// A
    Ampere,
}

/// A quantity that is no limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Quantity {
    /// In its unit.
    pub value: f64,
    /// Of the value.
    pub unit: LimitUnit,
    /// Where it comes from.
    pub source: String,
}

/// How much more resistance one conductor may have than another: so many ohms, or so many percent of
/// the other, whichever is larger.
#[derive(Clone, Debug, PartialEq)]
pub struct SiblingDifference {
    /// In ohms.
    pub limit: Limit,
    /// Of the conductor with the least resistance.
    pub or_percent: f64,
}

/// How well the conductors must be insulated from each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Leakage {
    /// Below this, in ohms, it is noted.
    pub note_below: Limit,
    /// Below this, in ohms, the run fails; not above the other.
    pub fail_below: Limit,
}

/// The least and the most that something may be.
#[derive(Clone, Debug, PartialEq)]
pub struct Bounds {
    /// In the unit.
    pub least: f64,
    /// In the unit.
    pub most: f64,
    /// Of both.
    pub unit: LimitUnit,
    /// Where they come from.
    pub source: String,
}
