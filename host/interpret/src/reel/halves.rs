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
        let mut parts = capture.entries.split(|entry| matches!(entry, Entry::ReelAgain));
        let half = |entries| Capture { head: capture.head.clone(), entries };
        let first = half(parts.next().unwrap_or_default().to_vec());
        // Both go with one zero, and are of one reel.
        let of_both = |entry: &&Entry| matches!(entry, Entry::Zero(_) | Entry::Reel(_));
        let both: Vec<Entry> = first.entries.iter().filter(of_both).cloned().collect();
        let second = parts.next().map(|part| half([&both[..], part].concat()));
        // Of more than two none is the second.
        let second = second.filter(|_| parts.next().is_none());
        Self { first, second }
    }
}
