//! What a jig reads of known pieces, proof after proof: individuals, with limits from its first proofs.

use serde::Serialize;

use super::Proof;
use crate::charts::{Estimate, Individuals, Rule, signals, slope};
use crate::{Chance, NoStatistic};

/// A number that was read of a known piece.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reading {
    /// What it is of.
    pub of: String,
    /// In ohms.
    pub ohm: f64,
}

/// A number over all proofs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Charted {
    /// What it is of.
    pub of: String,
    /// When each was read, by the index of its proof, and its ohms.
    pub points: Vec<(usize, f64)>,
    /// Centre and standard deviation, of the first proofs; none before there are as many.
    pub limits: Option<ChartLimits>,
    /// Rules that the newest point breaks, with those before it.
    pub newest_breaks: Vec<Rule>,
    /// How fast it creeps, in ohms a day, with 95 %; none of fewer than three.
    pub drift_ohm_a_day: Option<Estimate>,
}

/// What a chart is held against.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ChartLimits {
    /// In ohms.
    pub centre_ohm: f64,
    /// In ohms.
    pub sigma_ohm: f64,
}

/// So many proofs make the limits that later ones are held against. (judgement; a chart is usually begun with 20 to 25)
pub const PROOFS_BEFORE_LIMITS: usize = 20;

/// Less than this is below what a reading can show, however well some proofs agree. (judgement)
const SIGMA_LEAST_OHM: f64 = 0.002;

const DAY_S: f64 = 86_400.0;

/// Every number that all the proofs have, in the order of the first.
#[must_use]
pub fn charted(proofs: &[Proof]) -> Vec<Charted> {
    let Some(first) = proofs.first() else { return vec![] };
    let names = first.readings.iter().map(|reading| reading.of.clone());
    names.map(|of| chart(of, proofs)).collect()
}

fn chart(of: String, proofs: &[Proof]) -> Charted {
    let read = |proof: &Proof| proof.readings.iter().find(|one| one.of == of).map(|one| one.ohm);
    let points: Vec<(usize, f64)> =
        (0..).zip(proofs).filter_map(|(n, proof)| Some((n, read(proof)?))).collect();
    let values: Vec<f64> = points.iter().map(|(_, ohm)| *ohm).collect();
    let limits = values.first_chunk::<PROOFS_BEFORE_LIMITS>().and_then(|first| limits(first));
    let newest_breaks = limits.map_or_else(Vec::new, |limits| {
        let broken = signals(&values, limits.centre_ohm, limits.sigma_ohm).unwrap_or_default();
        let newest = broken.into_iter().filter(|signal| signal.at + 1 == values.len());
        newest.map(|signal| signal.rule).collect()
    });
    let from_s = proofs.first().map_or(0, |proof| proof.at_s);
    let days = |n: usize| (proofs[n].at_s - from_s) as f64 / DAY_S;
    let timed: Vec<(f64, f64)> = points.iter().map(|(n, ohm)| (days(*n), *ohm)).collect();
    let drift = slope(&timed, Chance::NINETEEN_IN_TWENTY).ok();
    Charted { of, points, limits, newest_breaks, drift_ohm_a_day: drift }
}

/// None of what is no number.
fn limits(first: &[f64]) -> Option<ChartLimits> {
    let (centre_ohm, sigma_ohm) = match Individuals::of(first) {
        Ok(found) => (found.centre, found.sigma),
        Err(NoStatistic::NoVariation) => (*first.first()?, 0.0),
        Err(_) => return None,
    };
    Some(ChartLimits { centre_ohm, sigma_ohm: sigma_ohm.max(SIGMA_LEAST_OHM) })
}

impl ChartLimits {
    /// Three standard deviations below and above the centre.
    #[must_use]
    pub fn three_sigma(&self) -> [f64; 2] {
        [self.centre_ohm - 3.0 * self.sigma_ohm, self.centre_ohm + 3.0 * self.sigma_ohm]
    }
}

impl Charted {
    /// The proofs, after those that made the limits, whose point lies beyond them.
    #[must_use]
    pub fn beyond(&self) -> Vec<usize> {
        let Some(limits) = self.limits else { return vec![] };
        let [least, most] = limits.three_sigma();
        let later = self.points.iter().skip(PROOFS_BEFORE_LIMITS);
        later.filter(|(_, ohm)| !(*ohm >= least && *ohm <= most)).map(|(n, _)| *n).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::{Event, History, Out, Piece};

    fn piece(n: i64, ohm: f64) -> Piece {
        let readings = vec![Reading { of: "good, data+".into(), ohm }];
        Piece { at_s: n * 86_400, name: "good".into(), is_as_stated: Some(true), readings }
    }

    /// Up and down by 5 mΩ: a moving range of 10 mΩ, so that sigma is 10 / 1.128 mΩ (NIST/SEMATECH 6.3.2.2).
    fn days(last: &[f64]) -> History {
        let steady = (0..20).map(|n| 0.05 + if n % 2 == 0 { 0.005 } else { -0.005 });
        let all = (0..).zip(steady.chain(last.iter().copied()));
        History::of(&all.map(|(n, ohm)| piece(n, ohm)).collect::<Vec<_>>(), &["good"])
    }

    #[test]
    fn a_reading_beyond_its_chart_is_out_though_the_piece_is_as_stated() {
        let three_sigma = 0.03 / 1.128;
        let within = days(&[0.05 + three_sigma * 0.999]);
        assert!(matches!(within.events.last(), Some(Event::Proved { .. })));
        let beyond = days(&[0.05, 0.05 - three_sigma * 1.001]);
        let why = Out::BeyondItsChart { of: "good, data+".into() };
        assert_eq!(beyond.events.last(), Some(&Event::Out { at_s: 21 * 86_400, why }));
        assert!(
            !beyond.events.was_right(20 * 86_400 + 60) && beyond.events.was_right(19 * 86_400 + 60)
        );
    }

    #[test]
    fn a_chart_has_no_limits_before_its_twentieth_proof() {
        let few: Vec<Piece> = (0..19).map(|n| piece(n, if n == 18 { 9.0 } else { 0.05 })).collect();
        let history = History::of(&few, &["good"]);
        assert_eq!(history.charts[0].limits, None);
        assert!(matches!(history.events.last(), Some(Event::Proved { .. })));
    }

    #[test]
    fn what_never_varies_has_the_least_sigma() {
        let same: Vec<Piece> =
            (0..21).map(|n| piece(n, if n == 20 { 0.057 } else { 0.05 })).collect();
        let chart = &History::of(&same, &["good"]).charts[0];
        assert_eq!(chart.limits.map(|limits| limits.sigma_ohm), Some(0.002));
        assert_eq!(chart.beyond(), [20]);
        assert_eq!(chart.newest_breaks, [Rule::OneBeyondThreeSigma]);
    }

    #[test]
    fn what_creeps_is_told_by_its_slope() {
        let creeps: Vec<Piece> = (0..40).map(|n| piece(n, 0.05 + 1e-4 * n as f64)).collect();
        let drift = History::of(&creeps, &["good"]).charts[0].drift_ohm_a_day.expect("it is told");
        assert!((drift.value - 1e-4).abs() < 1e-12 && drift.is_shown());
    }
}
