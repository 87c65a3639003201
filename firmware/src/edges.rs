//! What the edge catcher has caught and nobody has taken yet: filled by an interrupt, or what stands in for one,
//! emptied by the measurement. Plain loads and stores, no lock: either side writes its own end.

use core::sync::atomic::Ordering::{Acquire, Relaxed, Release};
use core::sync::atomic::{AtomicU8, AtomicU16, AtomicU32};

use runproof_protocol::{Edge, Microseconds};

/// Two slots' worth, at 5,000 breaks a second. (judgement)
const ROOM: usize = 32;

/// A ring of edges.
pub struct Caught {
    at: [AtomicU32; ROOM],
    carries: [AtomicU8; ROOM],
    changed: [AtomicU8; ROOM],
    put: AtomicU8,
    taken: AtomicU8,
    dropped: AtomicU16,
    /// What the next edge is marked with.
    hole: AtomicU8,
}

/// In an edge's `changed`, beside the posts: edges before it were dropped.
pub const BEHIND_A_HOLE: u8 = 0x80;

impl Caught {
    /// Nothing is caught.
    #[expect(clippy::new_without_default, reason = "a static is made of it")]
    #[must_use]
    pub const fn new() -> Self {
        Self {
            at: [const { AtomicU32::new(0) }; ROOM],
            carries: [const { AtomicU8::new(0) }; ROOM],
            changed: [const { AtomicU8::new(0) }; ROOM],
            put: AtomicU8::new(0),
            taken: AtomicU8::new(0),
            dropped: AtomicU16::new(0),
            hole: AtomicU8::new(0),
        }
    }

    /// For the one that catches: an edge, by the low half of the jig's clock. Without room it is dropped, and counted.
    pub fn put(&self, at: u32, carries: u8, changed: u8) {
        let put = self.put.load(Relaxed);
        if usize::from(put.wrapping_sub(self.taken.load(Acquire))) == ROOM {
            self.dropped.store(self.dropped.load(Relaxed).saturating_add(1), Relaxed);
            self.hole.store(BEHIND_A_HOLE, Relaxed);
            return;
        }
        let place = usize::from(put) % ROOM;
        self.at[place].store(at, Relaxed);
        self.carries[place].store(carries, Relaxed);
        self.changed[place].store(changed | self.hole.load(Relaxed), Relaxed);
        self.hole.store(0, Relaxed);
        self.put.store(put.wrapping_add(1), Release);
    }

    /// The edge that was caught first, if any; one [behind a hole](BEHIND_A_HOLE) only as the `first` of an event. Of its time no more is kept than tells it from half an hour before and after `now`.
    pub fn take(&self, now: Microseconds, first: bool) -> Option<Edge> {
        let taken = self.taken.load(Relaxed);
        if taken == self.put.load(Acquire) {
            return None;
        }
        let place = usize::from(taken) % ROOM;
        let changed = self.changed[place].load(Relaxed);
        if changed & BEHIND_A_HOLE != 0 && !first {
            return None;
        }
        // It may have come since `now` was read.
        let since = self.at[place].load(Relaxed).wrapping_sub(now.0 as u32).cast_signed();
        let edge = Edge {
            at: Microseconds(now.0.wrapping_add_signed(since.into())),
            carries: self.carries[place].load(Relaxed),
            changed,
        };
        self.taken.store(taken.wrapping_add(1), Release);
        Some(edge)
    }

    /// How many were dropped so far; from 65535 on it stays there.
    pub fn dropped(&self) -> u16 {
        self.dropped.load(Relaxed)
    }

    /// For the one that catches, while it does not: what was caught is forgotten.
    pub fn clear(&self) {
        self.taken.store(self.put.load(Relaxed), Relaxed);
        self.dropped.store(0, Relaxed);
        self.hole.store(0, Relaxed);
    }
}

#[test]
fn edges_come_out_as_they_went_in_and_a_hole_is_told_where_it_is() {
    let caught = Caught::new();
    let now = Microseconds((7 << 32) + 5);
    assert_eq!(caught.take(now, true), None);
    for round in 0..20 {
        // The first behind a hole waits to be the first of an event.
        let mut changed = if round == 0 { 1 } else { BEHIND_A_HOLE | 1 };
        for n in 0..40 {
            caught.put(u32::MAX - 100 + n, n as u8, 1);
        }
        assert_eq!(caught.take(now, false).is_none(), round > 0);
        let taken = usize::from(round == 0);
        for n in taken..ROOM {
            let edge = caught.take(now, n == 0).expect("it was put");
            let at = Microseconds((7 << 32) - 101 + n as u64);
            changed = if n == 0 { changed } else { 1 };
            assert_eq!(edge, Edge { at, carries: n as u8, changed });
        }
        assert_eq!((caught.take(now, true), caught.dropped()), (None, 8 * (round + 1)));
    }
    caught.put(0, 0, 1);
    caught.clear();
    assert_eq!((caught.take(now, true), caught.dropped()), (None, 0));
}
