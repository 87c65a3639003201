//! The one way to the debug probe: everything else writes `log::info!`.

use defmt_rtt as _;
use panic_probe as _;

macro_rules! info {
    ($($message:tt)*) => { ::defmt::info!($($message)*) };
}

pub(super) use info;
