//! The uncertainty of a resistance, by its causes (JCGM 100:2008, 5.1: they add as squares).

use serde::Serialize;

/// Standard uncertainties by cause.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Budget {
    /// Noise of the readings.
    pub instrument_ohm: f64,
    /// The jig's common scale, as far as the plug did not settle it.
    pub scale_ohm: f64,
    /// The end plug's resistors.
    pub plug_ohm: f64,
    /// The contacts that the reading includes.
    pub contacts_ohm: f64,
    /// What the model of the jig leaves out.
    pub model_ohm: f64,
}

impl Budget {
    /// The combined standard uncertainty.
    #[must_use]
    pub fn combined_ohm(&self) -> f64 {
        let parts =
            [self.instrument_ohm, self.scale_ohm, self.plug_ohm, self.contacts_ohm, self.model_ohm];
        parts.iter().map(|part| part * part).sum::<f64>().sqrt()
    }
}
