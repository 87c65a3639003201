//! The one way to the debug probe: everything else writes `log::info!` or `log::error!`.

use defmt_rtt as _;

macro_rules! info {
    ($($message:tt)*) => { ::defmt::info!($($message)*) };
}

macro_rules! error {
    ($($message:tt)*) => { ::defmt::error!($($message)*) };
}

pub(super) use {error, info};
