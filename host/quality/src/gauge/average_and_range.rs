//! The study by averages and ranges, as it is done on paper.

use std::f64::consts::FRAC_1_SQRT_2;

use serde::Serialize;

use super::{Components, NoStudy, Study};
use crate::describe::sum;

/// What the paper's sheet has at its foot, in the reading's unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RangeSummary {
    /// R̿: the mean of the ranges of each operator's trials of each part.
    pub mean_range: f64,
    /// X̄diff: between the means of the operators, the largest less the smallest.
    pub operator_range: f64,
    /// Rp: between the means of the parts.
    pub part_range: f64,
    /// How many.
    pub parts: usize,
    /// How many.
    pub operators: usize,
    /// How many.
    pub trials: usize,
}

/// K1 of two and three trials: 1 / d2 (AIAG MSA-4; that of two from memory).
const K1: [f64; 2] = [0.8862, 0.5908];
/// K2 and K3 of two to ten: 1 / √(d2² + d3²), as there is one range alone (AIAG MSA-4: that of three and of ten; the others from
/// memory).
const K2_K3: [f64; 9] =
    [FRAC_1_SQRT_2, 0.5231, 0.4467, 0.4030, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146];

/// The foot of the sheet for `study`.
#[must_use]
pub fn by_ranges(study: &Study) -> RangeSummary {
    let (parts, operators, trials) = (study.parts(), study.operators(), study.trials());
    let cells = (0..parts).flat_map(|part| (0..operators).map(move |operator| (part, operator)));
    let ranges = cells.map(|(part, operator)| range(study.cell(part, operator).iter().copied()));
    RangeSummary {
        mean_range: sum(ranges) / (parts * operators) as f64,
        operator_range: range(
            (0..operators)
                .map(|operator| sum(study.of_operator(operator)) / (parts * trials) as f64),
        ),
        part_range: range(
            (0..parts).map(|part| sum(study.of_part(part)) / (operators * trials) as f64),
        ),
        parts,
        operators,
        trials,
    }
}

/// What follows from the foot of the sheet. Reproducibility that would be the root of something negative is nought.
///
/// # Errors
///
/// [`NoStudy::NoConstants`], [`NoStudy::NotNumbers`].
pub fn average_and_range(of: &RangeSummary) -> Result<Components, NoStudy> {
    let constant = |constants: &[f64], count: usize| {
        count.checked_sub(2).and_then(|at| constants.get(at)).copied().ok_or(NoStudy::NoConstants)
    };
    let repeatability = (of.mean_range * constant(&K1, of.trials)?).powi(2);
    let operators = (of.operator_range * constant(&K2_K3[..2], of.operators)?).powi(2);
    let part = (of.part_range * constant(&K2_K3, of.parts)?).powi(2);
    let reproducibility = (operators - repeatability / (of.parts * of.trials) as f64).max(0.0);
    let components = Components { repeatability, reproducibility, part };
    if components.total().is_finite() { Ok(components) } else { Err(NoStudy::NotNumbers) }
}

fn range(values: impl Iterator<Item = f64> + Clone) -> f64 {
    values.clone().fold(f64::NEG_INFINITY, f64::max) - values.fold(f64::INFINITY, f64::min)
}
