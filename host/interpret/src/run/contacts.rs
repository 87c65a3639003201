//! What contacts add to a conductor, by the sheet.

use crate::judgement::budget::coverage::rectangular;
use crate::limits::LimitSheet;

/// The sense node sees this part of what falls in the relay's contact and the driving jaw: 4.7 kΩ
/// to the sensing jaw, 10 kΩ to the jig's side of the relay.
const NEAR_SHARE: f64 = 4.7 / (4.7 + 10.0);

/// A relay's contact. [judgement]
const RELAY_CONTACT_MOHM: [f64; 2] = [30.0, 100.0];

/// What contacts add to one conductor.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Contacts {
    /// Mean of what those at the jig add, and its standard uncertainty.
    pub(crate) near_ohm: f64,
    pub(crate) near_u_ohm: f64,
    /// Of the one at the plug; any value within its bounds is as likely.
    pub(crate) far_ohm: f64,
    pub(crate) far_u_ohm: f64,
}

impl Contacts {
    pub(super) fn of(sheet: &LimitSheet) -> Self {
        let (clip_ohm, clip_u_ohm) = anywhere(sheet.contact_mohm);
        let (relay_ohm, relay_u_ohm) = anywhere(RELAY_CONTACT_MOHM);
        Self {
            near_ohm: NEAR_SHARE * (clip_ohm + relay_ohm),
            near_u_ohm: NEAR_SHARE * clip_u_ohm.hypot(relay_u_ohm),
            far_ohm: clip_ohm,
            far_u_ohm: clip_u_ohm,
        }
    }

    /// Both ends.
    pub(crate) fn ohm(&self) -> f64 {
        self.near_ohm + self.far_ohm
    }

    /// Its standard uncertainty.
    pub(crate) fn u_ohm(&self) -> f64 {
        self.near_u_ohm.hypot(self.far_u_ohm)
    }
}

/// Mean and standard uncertainty, in ohms, of a contact that may have any value between two.
fn anywhere([least_mohm, most_mohm]: [f64; 2]) -> (f64, f64) {
    let half_width_mohm = (most_mohm - least_mohm) / 2.0;
    ((least_mohm + most_mohm) / 2e3, rectangular(half_width_mohm / 1e3))
}
