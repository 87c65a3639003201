//! How a jig measures.
//!
//! The path of one reading: [`session`] hears the host's command and starts [`measure`], which
//! sets the lines of the [`mod@bench`] and posts a slot in the [`slots`] mailbox; [`converter`] owns
//! the bus, converts, and answers; the reading goes out as an event of the session.
//!
//! Nothing here knows a chip, a clock or a thread. A board in [`boards`] brings the lines, the
//! bus, the time and the bytes, and polls the two tasks.
#![no_std]

#[cfg(any(test, feature = "simulated"))]
extern crate std;

pub mod alone;
pub mod bench;
pub mod boards;
pub mod clock;
pub mod converter;
#[cfg(target_os = "none")]
mod copies;
pub mod edges;
mod identity;
pub mod keep;
pub mod key;
pub mod measure;
pub mod session;
pub mod signs;
pub mod slots;
pub mod thermometer;
pub mod watch;

pub use identity::identity;
