//! The number that speaks in a finding, rounded, and its unit.

use serde::Serialize;

use super::level::{Level, Rounded};
use super::packing::Numbered;
use crate::judgement::Unit;

/// From 0.1 Ω to 10 MΩ, seven steps a factor of ten: within 18 %.
type Ohm = Level<100, 7, 57>;
/// From 0.5 to 500 V, nine steps a factor of ten: within 14 %.
type Volt = Level<500, 9, 28>;
/// From 3 to 753 m, five steps a factor of ten: within 26 %.
type Metre = Level<3000, 5, 13>;

/// A finding's number, where a code has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Amount {
    /// There is none, or it counts things.
    None,
    /// In ohms.
    Ohm(Ohm),
    /// In volts.
    Volt(Volt),
    /// In metres.
    Metre(Metre),
}

impl Amount {
    /// A voltage that is at least so much is never told as more.
    pub(super) fn of(value: Option<f64>, unit: Option<Unit>, is_least: bool) -> Self {
        match value.zip(unit) {
            Some((value, Unit::Ohm)) => Self::Ohm(Level::of(value)),
            Some((value, Unit::Volt)) if is_least => Self::Volt(Level::below(value)),
            Some((value, Unit::Volt)) => Self::Volt(Level::of(value)),
            Some((value, Unit::Metre)) => Self::Metre(Level::of(value)),
            Some((_, Unit::Count)) | None => Self::None,
        }
    }

    /// As a finding has it.
    #[must_use]
    pub fn told(&self) -> Option<(Rounded, Unit)> {
        match self {
            Self::None => None,
            Self::Ohm(ohm) => Some((ohm.rounded(), Unit::Ohm)),
            Self::Volt(volt) => Some((volt.rounded(), Unit::Volt)),
            Self::Metre(metre) => Some((metre.rounded(), Unit::Metre)),
        }
    }

    /// The number is within so many percent of what is told of it.
    #[must_use]
    pub fn within_percent(&self) -> Option<f64> {
        match self {
            Self::None => None,
            Self::Ohm(_) => Some(Ohm::within_percent()),
            Self::Volt(_) => Some(Volt::within_percent()),
            Self::Metre(_) => Some(Metre::within_percent()),
        }
    }
}

/// None, then each unit's levels behind those of the one before.
impl Numbered for Amount {
    const RADIX: u32 = 1 + Ohm::RADIX + Volt::RADIX + Metre::RADIX;
    fn number(&self) -> u32 {
        match self {
            Self::None => 0,
            Self::Ohm(ohm) => 1 + ohm.number(),
            Self::Volt(volt) => 1 + Ohm::RADIX + volt.number(),
            Self::Metre(metre) => 1 + Ohm::RADIX + Volt::RADIX + metre.number(),
        }
    }
    fn numbered(number: u32) -> Option<Self> {
        const VOLTS_FROM: u32 = 1 + Ohm::RADIX;
        const METRES_FROM: u32 = VOLTS_FROM + Volt::RADIX;
        match number {
            0 => Some(Self::None),
            1..VOLTS_FROM => Ohm::numbered(number - 1).map(Self::Ohm),
            VOLTS_FROM..METRES_FROM => Volt::numbered(number - VOLTS_FROM).map(Self::Volt),
            _ => Metre::numbered(number - METRES_FROM).map(Self::Metre),
        }
    }
}

#[test]
fn every_amount_comes_back() {
    for number in 0..Amount::RADIX {
        assert_eq!(Amount::numbered(number).map(|one| one.number()), Some(number));
    }
    let told = Amount::of(Some(24.0), Some(Unit::Volt), false).told().expect("volts");
    assert!((told.0.value - 24.0).abs() < 24.0 * 0.14, "{told:?}");
    assert_eq!(Amount::of(Some(3.0), Some(Unit::Count), false), Amount::None);
    let least = Amount::of(Some(37.7), Some(Unit::Volt), true).told().expect("volts");
    assert!(least.0.value <= 37.7, "{least:?}");
}
