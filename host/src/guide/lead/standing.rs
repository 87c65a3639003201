//! Since when a fixture, or the jig's clips, stand as they are seen.

use runproof_protocol::Microseconds;

use super::{Seen, Way};

#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Standing(Option<(Seen, Microseconds)>);

impl Standing {
    /// For how many microseconds. In a fixture what hangs on socket A goes with which posts meet.
    pub(super) fn micros(&mut self, at: Microseconds, seen: Seen, way: Way) -> u64 {
        let is_same = |before: &Seen| {
            before.glance.like(&seen.glance)
                && (way == Way::Fixture || before.presence == seen.presence)
        };
        let since = self.0.filter(|(before, _)| is_same(before)).map_or(at, |(_, since)| since);
        self.0 = Some((seen, since));
        at.0.saturating_sub(since.0)
    }
}
