//! When a process is out of control: the four Western Electric rules (1956), and the two trend rules that NIST/SEMATECH's
//! e-Handbook lists with them in 6.3.2 (the trend rules from memory).

use serde::Serialize;

use crate::describe::NoStatistic;

/// A rule that is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// A point beyond three sigma.
    OneBeyondThreeSigma,
    /// Two of three points beyond two sigma, on the same side.
    TwoOfThreeBeyondTwoSigma,
    /// Four of five points beyond one sigma, on the same side.
    FourOfFiveBeyondOneSigma,
    /// Eight points in a row on the same side of the centre.
    EightOnOneSide,
    /// Six points in a row, each above the one before, or each below.
    SixInATrend,
    /// Fourteen points in a row that go up and down by turns.
    FourteenByTurns,
}

/// A point that breaks a rule, together with those before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Signal {
    /// Which value, from 0.
    pub at: usize,
    /// Which rule.
    pub rule: Rule,
}

/// Where `values`, in their order, break a rule for a process with this centre and standard deviation.
///
/// # Errors
///
/// [`NoStatistic::NotNumbers`]: of any value, or of the standard deviation, which is above nought.
pub fn signals(values: &[f64], centre: f64, sigma: f64) -> Result<Vec<Signal>, NoStatistic> {
    let numbers = values.iter().chain([&centre, &sigma]).all(|value| value.is_finite());
    if !numbers || sigma <= 0.0 {
        return Err(NoStatistic::NotNumbers);
    }
    let distances: Vec<f64> = values.iter().map(|value| (value - centre) / sigma).collect();
    let broken = |at: usize| {
        let (sigmas, values) = (&distances[..=at], &values[..=at]);
        let rules = Rule::ALL.into_iter().filter(|rule| rule.is_broken(sigmas, values));
        rules.map(move |rule| Signal { at, rule })
    };
    Ok((0..values.len()).flat_map(broken).collect())
}

impl Rule {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::OneBeyondThreeSigma,
        Self::TwoOfThreeBeyondTwoSigma,
        Self::FourOfFiveBeyondOneSigma,
        Self::EightOnOneSide,
        Self::SixInATrend,
        Self::FourteenByTurns,
    ];

    /// By the last value, given so far: in standard deviations from the centre, and as they are.
    fn is_broken(self, sigmas: &[f64], values: &[f64]) -> bool {
        match self {
            Self::OneBeyondThreeSigma => some_of(sigmas, 1, 1, 3.0),
            Self::TwoOfThreeBeyondTwoSigma => some_of(sigmas, 2, 3, 2.0),
            Self::FourOfFiveBeyondOneSigma => some_of(sigmas, 4, 5, 1.0),
            Self::EightOnOneSide => some_of(sigmas, 8, 8, 0.0),
            Self::SixInATrend => in_a_trend(values),
            Self::FourteenByTurns => by_turns(values),
        }
    }
}

/// Whether the last one, and with it `some` of the last `of`, are beyond, on the same side.
fn some_of(sigmas: &[f64], some: usize, of: usize, beyond: f64) -> bool {
    let last = &sigmas[sigmas.len().saturating_sub(of)..];
    [1.0, -1.0].into_iter().any(|side| {
        let is_beyond = |sigma: &&f64| side * **sigma > beyond;
        last.last().is_some_and(|last| is_beyond(&last))
            && last.iter().filter(is_beyond).count() >= some
    })
}

fn in_a_trend(values: &[f64]) -> bool {
    let Some(last) = values.last_chunk::<6>() else { return false };
    last.windows(2).all(|pair| pair[1] > pair[0]) || last.windows(2).all(|pair| pair[1] < pair[0])
}

fn by_turns(values: &[f64]) -> bool {
    let Some(last) = values.last_chunk::<14>() else { return false };
    last.windows(3).all(|three| (three[1] - three[0]) * (three[2] - three[1]) < 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn broken(values: &[f64]) -> Vec<(usize, Rule)> {
        let signals = signals(values, 0.0, 1.0).unwrap();
        signals.into_iter().map(|signal| (signal.at, signal.rule)).collect()
    }

    #[test]
    fn each_rule_is_broken_at_its_last_point_and_not_before() {
        assert_eq!(broken(&[0.0, -3.1]), [(1, Rule::OneBeyondThreeSigma)]);
        assert_eq!(broken(&[0.0, 3.0]), []);
        assert_eq!(broken(&[2.1, 0.0, 2.1]), [(2, Rule::TwoOfThreeBeyondTwoSigma)]);
        assert_eq!(broken(&[2.1, 2.1, 0.0]), [(1, Rule::TwoOfThreeBeyondTwoSigma)]);
        assert_eq!(broken(&[2.1, 0.0, 0.1, 2.1]), []);
        assert_eq!(broken(&[2.1, -2.1, 0.0]), []);
        assert_eq!(broken(&[1.1, 1.2, -1.0, 1.2, 1.1]), [(4, Rule::FourOfFiveBeyondOneSigma)]);
        assert_eq!(broken(&[1.1, 1.2, -1.0, 1.2, 0.9]), []);
        let eight = [0.1, 0.2, 0.1, 0.3, 0.2, 0.1, 0.2, 0.1];
        assert_eq!(broken(&eight), [(7, Rule::EightOnOneSide)]);
        assert_eq!(broken(&eight[..7]), []);
        let six = [-0.3, -0.2, -0.1, 0.1, 0.2, 0.3];
        assert_eq!(broken(&six), [(5, Rule::SixInATrend)]);
        assert_eq!(broken(&six.map(|value| -value)), [(5, Rule::SixInATrend)]);
        assert_eq!(broken(&[-0.3, -0.2, -0.1, -0.1, 0.2, 0.3]), []);
        let turns: Vec<f64> = (0..14).map(|n| if n % 2 == 0 { 0.1 } else { -0.1 }).collect();
        assert_eq!(broken(&turns), [(13, Rule::FourteenByTurns)]);
        assert_eq!(broken(&turns[1..]), []);
    }

    #[test]
    fn on_the_centre_is_on_neither_side() {
        assert_eq!(broken(&[0.0; 20]), []);
    }

    #[test]
    fn what_is_no_number_breaks_no_rule_and_keeps_none() {
        for (values, centre, sigma) in [
            (vec![f64::NAN], 0.0, 1.0),
            (vec![0.0], f64::NAN, 1.0),
            (vec![0.0], 0.0, f64::NAN),
            (vec![0.0], 0.0, 0.0),
            (vec![0.0], 0.0, -1.0),
        ] {
            assert_eq!(signals(&values, centre, sigma), Err(NoStatistic::NotNumbers));
        }
        assert_eq!(broken(&[]), []);
    }
}
