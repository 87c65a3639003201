//! What a metre of one core must have.

use serde::Serialize;

/// Bounds at 20 °C: every value between is as likely.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Wire {
    /// In Ω/km.
    pub least_ohm_per_km: f64,
    /// In Ω/km.
    pub most_ohm_per_km: f64,
    /// The most that the declared size may have, by its standard or by what was told, whichever is more, in Ω/km.
    pub allowed_ohm_per_km: f64,
    /// The least, likewise.
    pub plausible_ohm_per_km: f64,
    /// What they follow from.
    pub basis: WireBasis,
    /// How wide they are was told, not taken from the standard.
    pub tolerance_told: bool,
    /// Where they come from.
    pub source: String,
}

/// What the bounds follow from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WireBasis {
    /// AWG: geometry of ASTM B258, with a tolerance.
    AstmB258,
    /// mm²: the most that IEC 60228 allows, and no less than the nominal cross-section.
    Iec60228,
    /// What was told of the resistance.
    Told,
}

impl Wire {
    /// The middle, in Ω/km.
    pub(crate) fn middle_ohm_per_km(&self) -> f64 {
        f64::midpoint(self.least_ohm_per_km, self.most_ohm_per_km)
    }

    /// From the middle to a bound, as a fraction of the middle.
    pub(crate) fn half_width(&self) -> f64 {
        (self.most_ohm_per_km - self.least_ohm_per_km) / 2.0 / self.middle_ohm_per_km()
    }
}
