//! What is wrong is measured until it comes out the same: contacts that are only made again fail no lead.

use runproof_interpret::judgement::FindingKind;
use runproof_protocol::Post;

/// That nothing is wrong after all, so often in a row; at most so often in all. (judgement)
const SAME_SOUND: u32 = 2;
const TRIES: u32 = 6;

/// What is wrong, and with which posts.
pub(crate) type Troubles = Vec<(FindingKind, Vec<Post>)>;

/// Of one phase of one lead.
#[derive(Clone, Debug, Default)]
pub(super) struct Repeats {
    before: Option<Troubles>,
    same: u32,
    tries: u32,
}

impl Repeats {
    /// Nothing is wrong at once, or the same as often as is `needed`; that nothing is wrong after all, twice.
    pub(super) fn is_settled(&mut self, troubles: &Troubles, needed: u32) -> bool {
        let is_same = self.before.as_ref() == Some(troubles);
        self.same = if is_same { self.same + 1 } else { 1 };
        self.before = Some(troubles.clone());
        match troubles.is_empty() {
            true => self.tries == 0 || self.same >= SAME_SOUND,
            false => self.same >= needed,
        }
    }

    /// Once more; false, where that was done often enough.
    pub(super) fn once_more(&mut self) -> bool {
        self.tries += 1;
        self.tries < TRIES
    }
}
