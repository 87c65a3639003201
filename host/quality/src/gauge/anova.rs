//! The study by analysis of variance.

use serde::Serialize;

use super::{Components, NoStudy, Study};
use crate::Chance;
use crate::describe::sum;
use crate::distributions::f_beyond;

/// A line of the table.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Source {
    /// SS, in the square of the reading's unit.
    pub sum_of_squares: f64,
    /// DF.
    pub degrees_of_freedom: usize,
    /// F, against what the model holds it against; `None` of the error itself, and where that is nought.
    pub f: Option<f64>,
    /// The chance of such an F, or a larger one, from nothing.
    pub p: Option<f64>,
}

/// What became of the interaction of part and operator.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Interaction {
    /// It is significant, so it counts as reproducibility.
    Kept,
    /// It is not, so it is one with repeatability.
    Pooled,
}

/// The analysis of variance of a crossed study.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Anova {
    /// Between parts; against the interaction, or, when that is pooled, against repeatability.
    pub part: Source,
    /// Between operators; likewise.
    pub operator: Source,
    /// What of an operator differs from part to part, against repeatability; as it was before it was pooled.
    pub interaction: Source,
    /// Between trials; with the interaction in it when that is pooled.
    pub repeatability: Source,
    /// Which of them.
    pub model: Interaction,
    /// What follows. A component that would be negative is nought.
    pub components: Components,
}

/// Analyses `study`. The interaction is pooled unless its p is below `significance`; AIAG MSA-4's is 0.05 (from memory),
/// programs in use have 0.05 or 0.25.
///
/// # Errors
///
/// [`NoStudy::NotNumbers`] of readings too large to be squared.
pub fn anova(study: &Study, significance: Chance) -> Result<Anova, NoStudy> {
    let [parts, operators, trials] =
        [study.parts(), study.operators(), study.trials()].map(|count| count as f64);
    let whole = mean(study.readings().iter().copied());
    let part_means: Vec<f64> =
        (0..study.parts()).map(|part| mean(study.of_part(part)) - whole).collect();
    let operator_means: Vec<f64> =
        (0..study.operators()).map(|operator| mean(study.of_operator(operator)) - whole).collect();
    let (mut together, mut within) = (vec![], vec![]);
    for (part, of_part) in part_means.iter().enumerate() {
        for (operator, of_operator) in operator_means.iter().enumerate() {
            let cell = study.cell(part, operator);
            let of_cell = mean(cell.iter().copied());
            together.push((of_cell - whole) - of_part - of_operator);
            within.extend(cell.iter().map(|reading| reading - of_cell));
        }
    }
    Table {
        parts: study.parts(),
        operators: study.operators(),
        trials: study.trials(),
        part: operators * trials * squares(&part_means),
        operator: parts * trials * squares(&operator_means),
        interaction: trials * squares(&together),
        repeatability: squares(&within),
    }
    .analysed(significance)
}

/// Sums of squares.
struct Table {
    parts: usize,
    operators: usize,
    trials: usize,
    part: f64,
    operator: f64,
    interaction: f64,
    repeatability: f64,
}

impl Table {
    fn analysed(&self, significance: Chance) -> Result<Anova, NoStudy> {
        let &Self { parts, operators, trials, .. } = self;
        let source = |sum_of_squares, degrees_of_freedom| Source {
            sum_of_squares,
            degrees_of_freedom,
            f: None,
            p: None,
        };
        let full = source(self.repeatability, parts * operators * (trials - 1));
        let interaction = source(self.interaction, (parts - 1) * (operators - 1)).against(&full);
        // Where nothing repeats differently, any interaction is one.
        let significant =
            interaction.p.map_or(self.interaction > 0.0, |p| p < significance.value());
        let model = if significant { Interaction::Kept } else { Interaction::Pooled };
        let (repeatability, error) = match model {
            Interaction::Kept => (full, interaction),
            Interaction::Pooled => {
                let pooled = source(
                    full.sum_of_squares + interaction.sum_of_squares,
                    full.degrees_of_freedom + interaction.degrees_of_freedom,
                );
                (pooled, pooled)
            }
        };
        let part = source(self.part, parts - 1).against(&error);
        let operator = source(self.operator, operators - 1).against(&error);
        let component = |of: &Source, each: usize| {
            ((of.mean_square() - error.mean_square()) / each as f64).max(0.0)
        };
        let together = match model {
            Interaction::Kept => {
                ((interaction.mean_square() - full.mean_square()) / trials as f64).max(0.0)
            }
            Interaction::Pooled => 0.0,
        };
        let components = Components {
            repeatability: repeatability.mean_square(),
            reproducibility: component(&operator, parts * trials) + together,
            part: component(&part, operators * trials),
        };
        if !components.total().is_finite() {
            return Err(NoStudy::NotNumbers);
        }
        Ok(Anova { part, operator, interaction, repeatability, model, components })
    }
}

impl Source {
    /// MS, in the square of the reading's unit.
    #[must_use]
    pub fn mean_square(&self) -> f64 {
        self.sum_of_squares / self.degrees_of_freedom as f64
    }

    fn against(self, error: &Self) -> Self {
        let f = self.mean_square() / error.mean_square();
        if !f.is_finite() {
            return self;
        }
        let [numerator, denominator] =
            [self.degrees_of_freedom, error.degrees_of_freedom].map(|degrees| degrees as f64);
        Self { f: Some(f), p: Some(f_beyond(numerator, denominator, f)), ..self }
    }
}

fn mean(values: impl Iterator<Item = f64> + Clone) -> f64 {
    sum(values.clone()) / values.count() as f64
}

fn squares(values: &[f64]) -> f64 {
    sum(values.iter().map(|value| value * value))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A table that a vendor's help has published: ten parts, three operators, three trials, a tolerance of 8.
    #[test]
    fn a_published_table_of_ten_parts() {
        let table = Table {
            parts: 10,
            operators: 3,
            trials: 3,
            part: 9.0 * 9.817_99,
            operator: 2.0 * 1.583_63,
            interaction: 18.0 * 0.019_94,
            repeatability: 60.0 * 0.045_98,
        };
        let near = |found: f64, published: f64, within: f64| {
            assert!((found - published).abs() <= within, "{found}, not {published}");
        };
        let found = table.analysed(Chance::new(0.25).unwrap()).unwrap();
        assert_eq!(found.model, Interaction::Pooled);
        near(found.interaction.p.unwrap(), 0.974, 5e-4);
        near(found.repeatability.mean_square(), 0.039_97, 5.1e-6);
        assert_eq!(found.repeatability.degrees_of_freedom, 78);
        let components = found.components;
        near(components.gauge(), 0.091_43, 1.1e-5);
        near(components.reproducibility, 0.051_46, 1.1e-5);
        near(components.part, 1.086_45, 1.1e-5);
        near(components.total(), 1.177_88, 1.1e-5);
        near(components.percent_contribution().unwrap(), 7.76, 5.1e-3);
        near(components.percent_study_variation().unwrap(), 27.86, 5.1e-3);
        near(components.percent_tolerance(8.0).unwrap(), 22.68, 5.1e-3);
        assert_eq!(components.distinct_categories(), Some(4));
    }

    #[test]
    fn a_significant_interaction_counts_as_reproducibility() {
        let table = Table {
            parts: 10,
            operators: 3,
            trials: 3,
            part: 90.0,
            operator: 4.0,
            interaction: 9.0,
            repeatability: 6.0,
        };
        let found = table.analysed(Chance::new(0.05).unwrap()).unwrap();
        assert_eq!(found.model, Interaction::Kept);
        let near = |found: f64, by_hand: f64| assert!((found - by_hand).abs() < 1e-14, "{found}");
        near(found.components.repeatability, 0.1);
        // (2 − 0.5) / 30 and (0.5 − 0.1) / 3.
        near(found.components.reproducibility, 0.05 + 0.4 / 3.0);
        near(found.components.part, 9.5 / 9.0);
        near(found.operator.f.unwrap(), 4.0);
    }
}
