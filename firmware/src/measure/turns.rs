//! The posts in turn, at a pace at which mains hum adds up to nothing.

use runproof_protocol::{Microseconds, Post};

/// Two of 64 turns that take 100 ms: five cycles of 50 Hz, six of 60 Hz, and each post's sixteen lie evenly
/// in them.
const TWO_MICROS: u64 = 3_125;

/// When each turn is due, and whose it is.
pub(super) fn turns(
    begin: Microseconds,
    count: usize,
) -> impl Iterator<Item = (Microseconds, Post)> {
    let due = move |turn: usize| begin.after(turn as u64 * TWO_MICROS / 2);
    (0..count).map(due).zip(Post::ALL.into_iter().cycle())
}
