//! Something that is wrong with a reel, or that could not be told of it.

use serde::Serialize;

use crate::limits::Severity;

/// What was found, with the number that speaks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ReelFinding {
    /// What.
    pub kind: ReelFindingKind,
    /// What it means for the reel.
    pub severity: Severity,
    /// The number that speaks, where there is one.
    pub value: Option<f64>,
    /// Of the value, 95 %.
    pub expanded_uncertainty: Option<f64>,
    /// What the value was held to.
    pub limit: Option<f64>,
    /// Of all three.
    pub unit: Option<ReelUnit>,
}

/// What it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum ReelFindingKind {
    /// Its cores have the resistance of copper-clad aluminium of the declared size, or of thinner copper.
    CopperClad,
    /// It weighs less than its copper would.
    LighterThanCopper,
    /// Its cores have more resistance than the declared size may have, and less than copper-clad aluminium has.
    ThinnerThanDeclared,
    /// Its cores have less than the declared size can have: it is shorter than its marks say, or thicker.
    LessThanDeclared,
    /// Two ways to tell its metal contradict each other.
    MaterialDisagrees,
    /// Length and material cannot be told apart: no second quantity was declared, or none that decides it.
    MaterialNotTold,
    /// No gauge was declared.
    GaugeNotDeclared,
    /// The size's limit lies within the uncertainty.
    TooCloseToGauge,
    /// How warm the copper is was not told.
    TemperatureNotTold,
    /// The resistance drifted between the readings.
    StillWarming,
    /// There are not two readings some time apart.
    NotReadTwice,
    /// Its resistance is too little to tell a length.
    TooShort,
    /// Its inner end was not reached: isolation and a length by capacitance only.
    Buried,
    /// It is longer than it was: a reel only becomes shorter.
    LongerThanBefore,
}

/// Of a finding's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReelUnit {
    /// Ω/km, at 20 °C.
    OhmPerKilometre,
    /// m
    Metre,
    /// K
    Kelvin,
    /// kg
    Kilogram,
    /// Ω
    Ohm,
}
