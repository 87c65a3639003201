//! The readings of a crossed study.

/// Readings by part, operator and trial; the same number of each.
#[derive(Clone, Debug, PartialEq)]
pub struct Study {
    readings: Vec<f64>,
    parts: usize,
    operators: usize,
    trials: usize,
}

/// Why readings are no crossed study.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoStudy {
    /// It takes two of each.
    #[error(
        "a study has at least two parts, operators and trials, not {parts}, {operators} and {trials}"
    )]
    TooSmall {
        /// Those that there are.
        parts: usize,
        /// Those that there are.
        operators: usize,
        /// Those that there are.
        trials: usize,
    },
    /// A part was not measured by each operator, or not as many times.
    #[error("every operator measures every part as many times; part {part} differs")]
    NotCrossed {
        /// The first part that differs, from 1.
        part: usize,
    },
    /// A reading is no number.
    #[error("a reading is no number, or too large to be reckoned with")]
    NotNumbers,
    /// More of something than the method has constants for.
    #[error(
        "the average and range method has constants for 2 to 3 trials, 2 to 3 operators, 2 to 10 parts"
    )]
    NoConstants,
}

impl Study {
    /// Of `readings[part][operator][trial]`, all in one unit.
    ///
    /// # Errors
    ///
    /// [`NoStudy`].
    pub fn of(readings: &[Vec<Vec<f64>>]) -> Result<Self, NoStudy> {
        let parts = readings.len();
        let operators = readings.first().map_or(0, Vec::len);
        let trials = readings.first().and_then(|part| part.first()).map_or(0, Vec::len);
        let crossed = |part: &Vec<Vec<f64>>| {
            part.len() == operators && part.iter().all(|cell| cell.len() == trials)
        };
        if let Some(part) = readings.iter().position(|part| !crossed(part)) {
            return Err(NoStudy::NotCrossed { part: part + 1 });
        }
        if parts.min(operators).min(trials) < 2 {
            return Err(NoStudy::TooSmall { parts, operators, trials });
        }
        let readings: Vec<f64> = readings.iter().flatten().flatten().copied().collect();
        if !readings.iter().all(|reading| reading.is_finite()) {
            return Err(NoStudy::NotNumbers);
        }
        Ok(Self { readings, parts, operators, trials })
    }

    /// How many parts.
    #[must_use]
    pub fn parts(&self) -> usize {
        self.parts
    }

    /// How many operators.
    #[must_use]
    pub fn operators(&self) -> usize {
        self.operators
    }

    /// How often each measured each part.
    #[must_use]
    pub fn trials(&self) -> usize {
        self.trials
    }

    pub(super) fn readings(&self) -> &[f64] {
        &self.readings
    }

    /// What an operator read of a part.
    pub(super) fn cell(&self, part: usize, operator: usize) -> &[f64] {
        let start = (part * self.operators + operator) * self.trials;
        &self.readings[start..start + self.trials]
    }

    pub(super) fn of_part(&self, part: usize) -> impl Iterator<Item = f64> + Clone {
        (0..self.operators).flat_map(move |operator| self.cell(part, operator)).copied()
    }

    pub(super) fn of_operator(&self, operator: usize) -> impl Iterator<Item = f64> + Clone {
        (0..self.parts).flat_map(move |part| self.cell(part, operator)).copied()
    }
}
