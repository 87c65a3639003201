//! The mean of a reel's cores, and what a kilometre of them has.

use serde::Serialize;

/// The mean of all cores without a joint.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ReelResistance {
    /// As it was read.
    pub ohm: f64,
    /// Of that, 95 %.
    pub expanded_uncertainty_ohm: f64,
    /// At 20 °C; absent where it was not told how warm the copper is.
    pub ohm_at_20_c: Option<f64>,
    /// Of that, 95 %.
    pub expanded_uncertainty_ohm_at_20_c: Option<f64>,
}

/// At 20 °C.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OhmPerLength {
    /// Of one core, Ω/km.
    pub ohm_per_km: f64,
    /// Of that, 95 %.
    pub expanded_uncertainty_ohm_per_km: f64,
    /// Where the length is from.
    pub by: LengthBy,
}

/// How a length is known beside the resistance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LengthBy {
    /// Printed marks.
    Marks,
    /// Capacitance, with what a metre of this cable is stated to have.
    Capacitance,
}
