//! Two conductors that meet through the plug, with nothing else to tell them apart: their loop.

use std::f64::consts::SQRT_2;

use super::Expected;
use crate::judgement::Budget;
use crate::map::Map;
use crate::resistances::PairResistances;

/// Both conductors in series, from post to plug and back.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WholeLoop {
    /// Contacts and plug taken off.
    pub(crate) ohm: f64,
    pub(crate) budget: Budget,
}

/// The plug between two terminals is the same from either side: the map does not matter.
pub(crate) fn whole_loop(expected: &Expected, measured: &PairResistances) -> WholeLoop {
    let causes = expected.causes(Map::STRAIGHT, measured);
    let plug_ohm = expected.plug_ohm(Map::STRAIGHT, &measured.pairs)[0];
    WholeLoop {
        ohm: measured.ohm[0] - plug_ohm - 2.0 * expected.contacts.ohm(),
        budget: Budget {
            instrument_ohm: causes.instrument[0].sqrt(),
            scale_ohm: causes.scale[0].sqrt(),
            plug_ohm: causes.plug[0].sqrt(),
            temperature_ohm: causes.temperature[0].sqrt(),
            zeroing_ohm: causes.zeroing[0].sqrt(),
            near_contacts_ohm: SQRT_2 * expected.contacts.near_u_ohm,
            far_contact_ohm: SQRT_2 * expected.contacts.far_u_ohm,
            model_ohm: causes.model[0].sqrt(),
        },
    }
}
