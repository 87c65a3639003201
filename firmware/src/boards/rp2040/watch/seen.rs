//! What the watch's interrupt keeps from round to round: plain loads and stores, no lock. The interrupt alone
//! writes while the ADC goes round, but for the wish to begin anew.

use core::sync::atomic::Ordering::Relaxed;
use core::sync::atomic::{AtomicBool, AtomicU8, AtomicU16, AtomicU32};

use runproof_protocol::{HAZARD, Microvolts};

use super::{MID_CODE, POST_MICROVOLTS_PER_CODE, POSTS};

/// A post further than this from its zero is in hazard.
const HAZARD_CODES: u16 = (HAZARD.0 / POST_MICROVOLTS_PER_CODE as i64) as u16;

/// Two seconds, well above what a pattern takes: microvolts of so many fit in 32 bits.
const ROUNDS_MAX: u16 = 8_000;

/// What the interrupt keeps from round to round. It alone writes while the ADC goes round, and takes no lock.
pub(super) struct Seen {
    zeros: [AtomicU16; POSTS],
    /// Which posts the last round found in hazard, one bit each.
    beyond: AtomicU8,
    /// The sums of the rounds since they were asked for, and how many these are.
    sums: [AtomicU32; POSTS],
    rounds: AtomicU16,
    /// The sums are to begin anew.
    afresh: AtomicBool,
    pulse: AtomicU16,
}

impl Seen {
    pub(super) const NEW: Self = Self {
        zeros: [const { AtomicU16::new(MID_CODE) }; POSTS],
        beyond: AtomicU8::new(0),
        sums: [const { AtomicU32::new(0) }; POSTS],
        rounds: AtomicU16::new(0),
        afresh: AtomicBool::new(false),
        pulse: AtomicU16::new(0),
    };

    /// How far the furthest post is off, in codes, if one is in hazard for the second time running.
    pub(super) fn see(&self, codes: [u16; POSTS]) -> Option<u16> {
        self.pulse.store(self.pulse.load(Relaxed).wrapping_add(1), Relaxed);
        self.add(codes);
        let (mut beyond, mut furthest) = (0, 0);
        let before = self.beyond.load(Relaxed);
        for (post, code) in codes.into_iter().enumerate() {
            let off = code.abs_diff(self.zeros[post].load(Relaxed));
            if off > HAZARD_CODES {
                beyond |= 1 << post;
                if before & 1 << post != 0 {
                    furthest = off.max(furthest);
                }
            }
        }
        self.beyond.store(beyond, Relaxed);
        (furthest > 0).then_some(furthest)
    }

    /// Takes no more once it is full.
    fn add(&self, codes: [u16; POSTS]) {
        let afresh = self.afresh.load(Relaxed);
        self.afresh.store(false, Relaxed);
        let before = if afresh { 0 } else { self.rounds.load(Relaxed) };
        if before < ROUNDS_MAX {
            self.rounds.store(before + 1, Relaxed);
            for (sum, code) in self.sums.iter().zip(codes) {
                let before = if afresh { 0 } else { sum.load(Relaxed) };
                sum.store(before + u32::from(code), Relaxed);
            }
        }
    }

    /// Forgets what was beyond; from now on posts are held against these.
    pub(super) fn zero(&self, zeros: [u16; POSTS]) {
        for (kept, zero) in self.zeros.iter().zip(zeros) {
            kept.store(zero, Relaxed);
        }
        self.beyond.store(0, Relaxed);
    }

    /// The sums begin anew with the next round.
    pub(super) fn observe(&self) {
        self.afresh.store(true, Relaxed);
    }

    /// Changes with every round.
    pub(super) fn pulse(&self) -> u16 {
        self.pulse.load(Relaxed)
    }

    /// The mean of the rounds seen; not while the interrupt may come.
    pub(super) fn observed(&self) -> [Microvolts; POSTS] {
        let rounds = if self.afresh.load(Relaxed) { 0 } else { self.rounds.load(Relaxed) };
        let mut posts = [Microvolts(0); POSTS];
        for (post, (sum, zero)) in posts.iter_mut().zip(self.sums.iter().zip(&self.zeros)) {
            if rounds > 0 {
                let rounds = i32::from(rounds);
                let zeros = rounds * i32::from(zero.load(Relaxed));
                let off = sum.load(Relaxed).cast_signed() - zeros;
                let part = off % rounds * POST_MICROVOLTS_PER_CODE / rounds;
                *post = Microvolts((off / rounds * POST_MICROVOLTS_PER_CODE + part).into());
            }
        }
        posts
    }
}
