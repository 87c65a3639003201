//! What every jig of this design is built of; a board adds its name and serial.

use heapless::String;
use runproof_protocol::{Identity, JigParts, Milliohms, Picofarads, Plug};

/// 330 Ω ± 1 %, and a 63 mA fast fuse of about 16 Ω cold.
pub(crate) const SERIES: Milliohms = Milliohms(346_000);
const SERIES_TOLERANCE_PPM: u32 = 15_000;
/// Two lines of 2 × 100 kΩ, side by side.
pub(crate) const PULL: Milliohms = Milliohms(100_000_000);
pub(crate) const DIVIDER: Milliohms = Milliohms(4_522_000_000);
/// 4.7 kΩ from the sensing jaw beside 10 kΩ from the driving one.
pub(crate) const SENSE: Milliohms = Milliohms(3_197_279);
/// 1 nF C0G, 1 %, from each sense node to a line of its own.
pub(crate) const REFERENCE: Picofarads = Picofarads(1_000);

pub(crate) const RING: [Milliohms; 4] =
    [Milliohms(33_200), Milliohms(47_500), Milliohms(68_100), Milliohms(150_000)];
const RING_TOLERANCE_PPM: u32 = 1_000;

pub(crate) const PARTS: JigParts = JigParts {
    series: [SERIES; 4],
    series_tolerance_ppm: SERIES_TOLERANCE_PPM,
    pull: PULL,
    divider: DIVIDER,
    sense: SENSE,
};

/// 180 Ω and a fuse, together within 5 %: 132 mA of 24 V.
pub(crate) const SUPPLY_LOAD: Milliohms = Milliohms(181_500);

pub(crate) const PLUG: Plug = Plug { ring: RING, tolerance_ppm: RING_TOLERANCE_PPM };

/// The nominal values, under the board's name and serial (what does not fit is cut off), of a jig that has no
/// supply load.
#[must_use]
pub fn identity(board: &str, serial: &str) -> Identity {
    Identity {
        serial: text(serial),
        board: text(board),
        firmware: text(env!("CARGO_PKG_VERSION")),
        parts: PARTS,
        plug: PLUG,
        supply_load: Milliohms(0),
    }
}

fn text<const N: usize>(text: &str) -> String<N> {
    text.bytes().take(N).filter(u8::is_ascii).map(char::from).collect()
}
