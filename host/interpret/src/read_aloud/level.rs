//! Numbers rounded to steps of a logarithmic scale.

use serde::{Serialize, Serializer};

use super::packing::Numbered;

/// A number as a code tells it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Rounded {
    /// In the unit of the field.
    pub value: f64,
    /// What that is of the number.
    pub bound: Bound,
}

/// What a rounded value is of its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Bound {
    /// The number is within half a step of it.
    About,
    /// The number is less, or nothing.
    Less,
    /// The number is more.
    More,
}

/// On a scale that begins at so many thousandths, with so many steps a factor of ten, and so many in all. 0 is less than
/// the first step, `STEPS` + 1 is more than the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32>(u32);

impl<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32>
    Level<LEAST_MILLI, PER_TEN, STEPS>
{
    /// The nearest; of what is no number the most, which claims least.
    pub(super) fn of(value: f64) -> Self {
        Self::stepped(value, f64::round)
    }

    /// The next one below, of a number that is a bound itself.
    pub(super) fn below(value: f64) -> Self {
        // Half a thousandth of a step, so that a level stays itself.
        Self::stepped(value, |step| (step + 0.0005).floor())
    }

    fn stepped(value: f64, whole: impl Fn(f64) -> f64) -> Self {
        if value.is_nan() {
            return Self(STEPS + 1);
        }
        let least = f64::from(LEAST_MILLI) / 1e3;
        let step = whole(libm::log10(value.max(least / 1e3) / least) * f64::from(PER_TEN));
        match step {
            step if step < 0.0 => Self(0),
            step if step < f64::from(STEPS) => Self(step as u32 + 1),
            _ => Self(STEPS + 1),
        }
    }

    /// What it tells.
    #[must_use]
    pub fn rounded(&self) -> Rounded {
        let (step, bound) = match self.0 {
            0 => (0, Bound::Less),
            number if number > STEPS => (STEPS - 1, Bound::More),
            number => (number - 1, Bound::About),
        };
        let value = libm::pow(10.0, f64::from(step) / f64::from(PER_TEN));
        Rounded { value: f64::from(LEAST_MILLI) / 1e3 * value, bound }
    }

    /// A number is within so many percent of what is told of it.
    #[must_use]
    pub fn within_percent() -> f64 {
        100.0 * (libm::pow(10.0, 0.5 / f64::from(PER_TEN)) - 1.0)
    }
}

impl<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32> Numbered
    for Level<LEAST_MILLI, PER_TEN, STEPS>
{
    const RADIX: u32 = STEPS + 2;
    fn number(&self) -> u32 {
        self.0
    }
    fn numbered(number: u32) -> Option<Self> {
        Some(Self(number.min(STEPS + 1)))
    }
}

impl<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32> Serialize
    for Level<LEAST_MILLI, PER_TEN, STEPS>
{
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.rounded().serialize(to)
    }
}

/// The same with a sign: the level twice, and 1 more of what is negative. What is less than the first step has none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Signed<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32> {
    size: Level<LEAST_MILLI, PER_TEN, STEPS>,
    is_negative: bool,
}

impl<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32>
    Signed<LEAST_MILLI, PER_TEN, STEPS>
{
    pub(super) fn of(value: f64) -> Self {
        Self::sized(Level::of(value.abs()), value)
    }

    /// The next one towards nothing, of a number that is a bound itself.
    pub(super) fn below(value: f64) -> Self {
        Self::sized(Level::below(value.abs()), value)
    }

    fn sized(size: Level<LEAST_MILLI, PER_TEN, STEPS>, value: f64) -> Self {
        Self { size, is_negative: value < 0.0 && size.0 > 0 }
    }

    /// What it tells, `bound` being of its size.
    #[must_use]
    pub fn rounded(&self) -> Rounded {
        let Rounded { value, bound } = self.size.rounded();
        Rounded { value: if self.is_negative { -value } else { value }, bound }
    }

    /// A number is within so many percent of what is told of it.
    #[must_use]
    pub fn within_percent() -> f64 {
        Level::<LEAST_MILLI, PER_TEN, STEPS>::within_percent()
    }
}

impl<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32> Numbered
    for Signed<LEAST_MILLI, PER_TEN, STEPS>
{
    const RADIX: u32 = 2 * (STEPS + 1) + 1;
    fn number(&self) -> u32 {
        match self.size.0 {
            0 => 0,
            size => 2 * size - u32::from(!self.is_negative),
        }
    }
    fn numbered(number: u32) -> Option<Self> {
        let is_negative = number > 0 && number.is_multiple_of(2);
        Some(Self { size: Level(number.div_ceil(2).min(STEPS + 1)), is_negative })
    }
}

impl<const LEAST_MILLI: u32, const PER_TEN: u32, const STEPS: u32> Serialize
    for Signed<LEAST_MILLI, PER_TEN, STEPS>
{
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.rounded().serialize(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Ohm = Level<100, 16, 61>;
    type Volt = Signed<20, 32, 111>;

    #[test]
    fn a_level_is_within_half_a_step_and_stays_itself() {
        for n in 0..2000 {
            let value = 0.1 * 1.004_f64.powi(n);
            let told = Ohm::of(value).rounded();
            if told.bound == Bound::About {
                let most = 1.0 + Ohm::within_percent() / 100.0 + 1e-9;
                assert!((1.0 / most..most).contains(&(value / told.value)), "{value}: {told:?}");
            }
            assert!(Ohm::below(value).rounded().value <= value * (1.0 + 1e-3));
        }
        for number in 0..Ohm::RADIX {
            let level = Ohm::numbered(number).expect("all are");
            assert_eq!(level.number(), number);
            if level.rounded().bound == Bound::About {
                assert_eq!(Ohm::of(level.rounded().value), level);
                assert_eq!(Ohm::below(level.rounded().value), level);
            }
        }
        for number in 0..Volt::RADIX {
            let level = Volt::numbered(number).expect("all are");
            assert_eq!(level.number(), number);
            if level.rounded().bound == Bound::About {
                assert_eq!(Volt::of(level.rounded().value), level);
            }
        }
    }

    #[test]
    fn what_is_no_number_claims_nothing() {
        for value in [f64::INFINITY, 1e300] {
            assert_eq!(Ohm::of(value).rounded().bound, Bound::More);
        }
        for value in [0.0, -3.0, f64::NEG_INFINITY] {
            assert_eq!(Ohm::of(value).rounded().bound, Bound::Less);
        }
        assert_eq!(Volt::of(-0.61).rounded().bound, Bound::About);
        assert!(Volt::of(-0.61).rounded().value < -0.5);
        assert_eq!(Ohm::of(f64::NAN).rounded().bound, Bound::More);
    }
}
