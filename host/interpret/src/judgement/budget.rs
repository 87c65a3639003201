//! The uncertainty of a resistance, by its causes (JCGM 100:2008, 5.1: they add as squares), and what
//! it comes to (JCGM 100:2008, annex G).

pub(crate) mod coverage;

use serde::Serialize;

/// Standard uncertainties by cause.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Budget {
    /// Noise of the readings.
    pub instrument_ohm: f64,
    /// The jig's common scale: its series resistors' tolerance, as far as plug and zero did not
    /// settle it.
    pub scale_ohm: f64,
    /// The end plug's resistors: their tolerance, as far as the zero did not settle it.
    pub plug_ohm: f64,
    /// How far resistors have changed with temperature.
    pub temperature_ohm: f64,
    /// What made the zero uncertain: its contacts and noise; nothing without one.
    pub zeroing_ohm: f64,
    /// The contacts at the jig.
    pub near_contacts_ohm: f64,
    /// The contact at the end plug, which may be anywhere between its bounds.
    pub far_contact_ohm: f64,
    /// What the model of the jig leaves out.
    pub model_ohm: f64,
}

/// The readings of a pair that are to spare for their scatter.
const DEGREES_OF_FREEDOM: f64 = 12.0;

impl Budget {
    /// The combined standard uncertainty.
    #[must_use]
    pub fn combined_ohm(&self) -> f64 {
        self.beside_far_contact_ohm().hypot(self.far_contact_ohm)
    }

    /// Half of the interval that holds the true value with 95 %.
    #[must_use]
    pub fn expanded_ohm(&self) -> f64 {
        let rest = self.beside_far_contact_ohm();
        let student = coverage::student(self.degrees_of_freedom()) / coverage::NORMAL;
        coverage::half_width(3.0_f64.sqrt() * self.far_contact_ohm, rest * student)
    }

    /// The factor k by which the expanded uncertainty is larger than the combined one.
    #[must_use]
    pub fn coverage_factor(&self) -> f64 {
        self.expanded_ohm() / self.combined_ohm()
    }

    /// The effective degrees of freedom of all but the far contact: only noise is estimated from few
    /// readings (Welch and Satterthwaite, JCGM 100:2008, G.4.1).
    #[must_use]
    pub fn degrees_of_freedom(&self) -> f64 {
        let share = self.instrument_ohm / self.beside_far_contact_ohm();
        DEGREES_OF_FREEDOM / share.powi(4)
    }

    fn beside_far_contact_ohm(&self) -> f64 {
        let parts = [
            self.instrument_ohm,
            self.scale_ohm,
            self.plug_ohm,
            self.temperature_ohm,
            self.zeroing_ohm,
            self.near_contacts_ohm,
            self.model_ohm,
        ];
        parts.iter().map(|part| part * part).sum::<f64>().sqrt()
    }
}
