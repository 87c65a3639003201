//! A reel's capture, in its two readings.

use crate::capture::{Capture, Entry};

/// What came before a reel was read again, and what after.
pub(super) struct Halves {
    pub(super) first: Capture,
    /// Absent where it was read once.
    pub(super) second: Option<Capture>,
}

impl Halves {
    pub(super) fn of(capture: &Capture) -> Self {
        let mut entries =
            capture.entries.split(|entry| matches!(entry, Entry::ReelAgain)).map(|part| {
                let kept = part.iter().filter(|entry| !matches!(entry, Entry::Reel(_)));
                kept.cloned().collect::<Vec<_>>()
            });
        let half = |entries| Capture { head: capture.head.clone(), entries };
        let first = half(entries.next().unwrap_or_default());
        // The readings of both go with one zero.
        let zero = first.zero().copied().map(Entry::Zero);
        let second = entries.next().map(|part| half(zero.into_iter().chain(part).collect()));
        // Of more than two none is the second.
        let second = second.filter(|_| entries.next().is_none());
        Self { first, second }
    }
}
