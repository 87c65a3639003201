//! Whether the catcher and the converters say the same of each post.

use runproof_protocol::Microseconds;

use super::lanes::since;

/// What was not compared for longer is compared anew. (judgement)
const UNSEEN_US_MAX: u64 = 30_000;

/// Since when they do not, and for how long at most they did not.
#[derive(Clone, Debug, Default)]
pub(super) struct Contradiction {
    since: [Option<Microseconds>; 4],
    compared: Microseconds,
    pub(super) longest_us: u64,
}

impl Contradiction {
    /// A set that was read in this time while the catcher said so.
    pub(super) fn hear(
        &mut self,
        (from, to): (Microseconds, Microseconds),
        catcher: u8,
        converters: [Option<bool>; 4],
    ) {
        if since(self.compared, from) > UNSEEN_US_MAX {
            self.since = [None; 4];
        }
        self.compared = to;
        for (post, carries) in converters.into_iter().enumerate() {
            let caught = catcher >> post & 1 != 0;
            if carries.is_some_and(|carries| carries != caught) {
                let begun = *self.since[post].get_or_insert(from);
                self.longest_us = self.longest_us.max(since(begun, to));
            } else {
                self.since[post] = None;
            }
        }
    }
}
