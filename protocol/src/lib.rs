//! What the jig and the host say to each other: the contract on one page.
//!
//! The host sends a [`Command`], the jig answers with one or more [`Event`]s. Each travels as one
//! [frame]: postcard, then a CRC-32, then COBS, then a zero byte.
//!
//! | the host sends | the jig answers |
//! |---|---|
//! | [`Hello`](Command::Hello) | [`Hello`](Event::Hello) with the same nonce: version, what this jig can do; then [`Restarted`](Event::Restarted) if it started anew by itself |
//! | [`Identify`](Command::Identify) | [`Identity`](Event::Identity): serial, firmware, the values of its parts |
//! | [`Measure`](Command::Measure) | [`Started`](Event::Started), how [`Warm`](Event::Warm) the jig is if it knows, a [`Pattern`](Event::Pattern) for each pattern driven and a [`Rise`](Event::Rise) for each post let rise, then [`Done`](Event::Done); or [`Stopped`](Event::Stopped), [`Hazard`](Event::Hazard), [`Refused`](Event::Refused) |
//! | [`Measure`](Command::Measure) of a [flexed](Phase::Flex) run | likewise, until an abort, with [`Edges`](Event::Edges) between the patterns |
//! | [`Abort`](Command::Abort) | [`Stopped`](Event::Stopped) if something was being measured |
//! | [`Rearm`](Command::Rearm) | [`Armed`](Event::Armed): a latched hazard is cleared |
//! | [`Show`](Command::Show) | nothing; its lamps and sounder show it, until the next measurement |
//! | [`Replay`](Command::Replay) | as [`Measure`](Command::Measure), out of its memory: what it measured last when its key was pressed with no host there; or [`Refused`](Event::Refused) |
//! | [`Keep`](Command::Keep) | [`Kept`](Event::Kept): the [record](records) outlives its power; or [`NotKept`](Event::NotKept) |
//! | [`Recall`](Command::Recall) | [`Recalled`](Event::Recalled) with the record, or [`NotKept`](Event::NotKept) |
//! | [`LightFar`](Command::LightFar) | as [`Measure`](Command::Measure), with no pattern in it: the lights at the far end have been lit once through |
//! | nothing | [`Key`](Event::Key) when its key is pressed, and a [`Heartbeat`](Event::Heartbeat) every [`HEARTBEAT`] |
//!
//! A phase that is ordered while another is measured follows after it; an abort ends both. A re-arm that
//! was sent before a hazard was told does not clear it.
//!
//! Rules of change: a variant or a field is only ever added at the end; nothing is reordered or
//! removed. What an older sender does not know of at a message's end is read as zero: false, or none. `Hello` stands first on both sides and starts with the version, so that any two
//! versions can tell each other apart. A change that an older reader would *misunderstand* raises
//! [`VERSION`].
#![no_std]

mod command;
mod decoder;
mod edges;
mod event;
pub mod frame;
mod numbered;
mod reading;
pub mod records;
mod restart;
mod rise;
mod signs;
mod told;
mod units;
pub mod usb;

pub use command::{Command, Phase};
pub use decoder::{Decoded, Decoder};
pub use edges::{Edge, Edges};
pub use event::{Capabilities, Event, Fault, HazardKind, Identity, JigParts, Plug, Refusal, Stop};
pub use reading::{Channel, Converter, Drive, Input, Pattern, Range, Reading, Step};
pub use records::{Key, NotKept, Record};
pub use restart::Restart;
pub use rise::Rise;
pub use signs::{FarLights, Lamp, Signs, Tune};
pub use units::{
    Microohms, Microseconds, Microvolts, Millicelsius, Milliohms, Nanoohms, Picofarads, Post,
};

/// The version of this contract; jig and host must agree on it.
pub const VERSION: u16 = 1;

/// More than this between two posts, under the [`LOAD`], is a hazard; and so is more than this on a
/// post while the relays are closed.
pub const HAZARD: Microvolts = Microvolts(5_000_000);

/// The supply load is not put on where more than this stood between posts 3 and 4 just before: the peak of
/// 30 V of a sine, with some room.
pub const SUPPLY_LOAD_MAX: Microvolts = Microvolts(45_000_000);

/// What the loaded live reading puts between any two posts.
pub const LOAD: Milliohms = Milliohms(47_000_000);

/// The foot of each post's live divider, which the converter reads.
pub const DIVIDER_FOOT: Milliohms = Milliohms(22_000_000);

/// A jig with a host attached says that it is alive this often.
pub const HEARTBEAT: Microseconds = Microseconds(500_000);
