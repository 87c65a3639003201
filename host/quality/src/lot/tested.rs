//! What the tests of a lot's units come to, unit by unit.

use serde::Serialize;

use super::Ranges;

/// What a test says of its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// It cannot tell.
    CannotTell,
    /// It passes.
    Pass,
    /// It fails.
    Fail,
}

/// A test of a unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Test {
    /// Which unit.
    pub unit: u32,
    /// What it says.
    pub outcome: Outcome,
    /// Its jig was proved before it, and no proof has failed since.
    pub jig_is_proved: bool,
    /// What it has of its limit, the most of its conductors, as a part of that; where nothing but resistance is against it.
    pub of_limit: Option<f64>,
}

/// Units, by what their tests say.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Tested {
    /// They pass.
    pub conforming: u32,
    /// They failed once: no later pass takes that back, only that the test which failed is void.
    pub nonconforming: Ranges,
    /// Whatever was tested, nothing could be told.
    pub cannot_tell: Ranges,
    /// Tested by a jig that was not proved, which counts for nothing.
    pub not_proved: Ranges,
    /// Not tested.
    pub left: Ranges,
}

impl Tested {
    /// Of these units, in ascending order, by their tests in any order.
    #[must_use]
    pub fn of(units: &[u32], tests: &[Test]) -> Self {
        let mut sorted: Vec<&Test> = tests.iter().collect();
        sorted.sort_by_key(|test| test.unit);
        let mut all = Sorted::default();
        for unit in units.iter().copied() {
            let from = sorted.partition_point(|test| test.unit < unit);
            let of_unit = sorted[from..].iter().take_while(|test| test.unit == unit);
            all.take(unit, of_unit.copied());
        }
        Tested {
            conforming: all.conforming,
            nonconforming: Ranges::of(all.nonconforming),
            cannot_tell: Ranges::of(all.cannot_tell),
            not_proved: Ranges::of(all.not_proved),
            left: Ranges::of(all.left),
        }
    }
}

#[derive(Default)]
struct Sorted {
    conforming: u32,
    nonconforming: Vec<u32>,
    cannot_tell: Vec<u32>,
    not_proved: Vec<u32>,
    left: Vec<u32>,
}

impl Sorted {
    fn take<'a>(&mut self, unit: u32, tests: impl Iterator<Item = &'a Test> + Clone) {
        let proved = tests.clone().filter(|test| test.jig_is_proved);
        match proved.map(|test| test.outcome).max() {
            Some(Outcome::Fail) => self.nonconforming.push(unit),
            Some(Outcome::Pass) => self.conforming += 1,
            Some(Outcome::CannotTell) => self.cannot_tell.push(unit),
            None if tests.clone().next().is_some() => self.not_proved.push(unit),
            None => self.left.push(unit),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_that_failed_is_not_tested_until_it_passes() {
        let test =
            |unit, outcome, jig_is_proved| Test { unit, outcome, jig_is_proved, of_limit: None };
        let tests = [
            test(5, Outcome::Pass, false),
            test(3, Outcome::Pass, true),
            test(2, Outcome::Fail, true),
            test(2, Outcome::Pass, true),
            test(3, Outcome::CannotTell, true),
            test(4, Outcome::CannotTell, true),
            test(7, Outcome::Fail, true),
        ];
        let found = Tested::of(&[2, 3, 4, 5, 6], &tests);
        assert_eq!(found.conforming, 1);
        let all = [&found.nonconforming, &found.cannot_tell, &found.not_proved, &found.left];
        assert_eq!(all.map(Ranges::to_string), ["2", "4", "5", "6"]);
    }
}
