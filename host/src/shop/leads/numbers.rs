//! The number of the next lead: the first that is free.

use std::collections::BTreeSet;

pub(crate) struct Numbers {
    taken: BTreeSet<u32>,
    from: u32,
    last: u32,
}

impl Numbers {
    pub(crate) fn new(taken: impl IntoIterator<Item = u32>, from: u32, last: u32) -> Self {
        Self { taken: taken.into_iter().collect(), from: from.max(1), last }
    }

    /// None where all are taken.
    pub(crate) fn next(&self) -> Option<u32> {
        (self.from..=self.last).find(|number| !self.taken.contains(number))
    }

    pub(crate) fn take(&mut self, number: u32) {
        self.taken.insert(number);
        // All up to here are taken: nobody looks at them again.
        while self.taken.remove(&self.from) {
            self.from += 1;
        }
    }

    /// It is to be used again.
    pub(crate) fn give_back(&mut self, number: u32) {
        let from = self.from;
        self.taken.remove(&number);
        if number < from {
            self.taken.extend(number + 1..from);
            self.from = number;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_are_filled_and_what_is_given_back_comes_next() {
        let mut numbers = Numbers::new([1, 2, 4], 1, 6);
        let mut all = vec![];
        for _ in 0..3 {
            let next = numbers.next().expect("free");
            all.push(next);
            numbers.take(next);
        }
        assert_eq!((all, numbers.next()), (vec![3, 5, 6], None));
        numbers.give_back(5);
        assert_eq!(numbers.next(), Some(5));
        numbers.take(5);
        assert_eq!(numbers.next(), None);
        assert_eq!(Numbers::new([], 40, u32::MAX).next(), Some(40));
    }
}
