//! Recent time as a strip: one letter for each quarter of a second, the worst of it.

use std::collections::VecDeque;

/// How long a letter is.
pub(super) const LETTER_S: f64 = 0.25;

/// No terminal is wider, and the rest is forgotten.
pub(super) const LETTERS_MAX: usize = 512;

/// What is told of a moment; a later one hides those before it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Mark {
    #[default]
    NotKnown,
    Well,
    Lost,
    Rose,
    Bad,
}

impl Mark {
    pub(super) fn letter(self) -> char {
        match self {
            Self::NotKnown => ' ',
            Self::Well => '─',
            Self::Lost => '·',
            Self::Rose => '▄',
            Self::Bad => '█',
        }
    }
}

/// Which letter of all since the watch began a time is in.
pub(super) fn letter_of(s: f64) -> u64 {
    (s.max(0.0) / LETTER_S) as u64
}

/// The last of them.
#[derive(Clone, Debug)]
pub(super) struct Strip<T> {
    letters: VecDeque<T>,
    /// The number of the one after the last.
    next: u64,
}

impl<T: Copy + Default + Ord> Strip<T> {
    pub(super) fn new() -> Self {
        Self { letters: VecDeque::new(), next: 0 }
    }

    /// Makes the letters of this stretch at least so bad.
    pub(super) fn mark(&mut self, from_s: f64, until_s: f64, mark: T) {
        let last = letter_of(until_s);
        self.reach(last);
        let first = self.next - self.letters.len() as u64;
        for letter in letter_of(from_s).max(first)..=last {
            let one = &mut self.letters[(letter - first) as usize];
            *one = mark.max(*one);
        }
    }

    /// That there is a letter for this number.
    fn reach(&mut self, last: u64) {
        // After a long pause only the last are of interest.
        if last.saturating_sub(self.next) > LETTERS_MAX as u64 {
            self.next = last - LETTERS_MAX as u64;
            self.letters.clear();
        }
        while self.next <= last {
            self.letters.push_back(T::default());
            self.next += 1;
            if self.letters.len() > LETTERS_MAX {
                self.letters.pop_front();
            }
        }
    }

    /// So many, up to that of this time; the latest is the last.
    pub(super) fn last(&self, count: usize, now_s: f64) -> Vec<T> {
        let end = letter_of(now_s) + 1;
        let first = self.next - self.letters.len() as u64;
        let at = |letter: u64| {
            let index = usize::try_from(letter.checked_sub(first)?).ok()?;
            self.letters.get(index).copied()
        };
        let letters = (0..count as u64).rev();
        letters.map(|back| end.checked_sub(back + 1).and_then(at).unwrap_or_default()).collect()
    }
}

#[test]
fn a_strip_keeps_the_worst_of_each_letter_and_forgets_what_is_long_ago() {
    use Mark::{Bad, NotKnown, Well};
    let mut strip = Strip::new();
    strip.mark(0.0, 0.6, Well);
    strip.mark(0.3, 0.31, Bad);
    strip.mark(0.3, 0.31, Well);
    assert_eq!(strip.last(4, 0.6), [NotKnown, Well, Bad, Well]);
    assert_eq!(strip.last(2, 0.8), [Well, NotKnown]);
    assert_eq!(strip.last(0, 0.8), []);
    strip.mark(1e6, 1e6, Bad);
    assert_eq!(strip.last(2, 1e6), [NotKnown, Bad]);
    strip.mark(0.0, 0.0, Bad);
    assert_eq!(strip.last(LETTERS_MAX, 1e6).iter().filter(|one| **one == Bad).count(), 1);
    assert_eq!(strip.last(9, 0.0), [NotKnown; 9]);
}
