//! A value of a limit sheet, if it is what it must be.

use std::ops::Range;

use toml::Spanned;

use crate::limits::Severity;
use crate::limits::{
    Bounds, Leakage, Limit, LimitUnit, Quantity, SheetError, SiblingDifference, text,
};

/// Checks values of this text.
#[derive(Clone, Copy)]
pub(super) struct Checked<'a>(pub(super) &'a str);

impl Checked<'_> {
    pub(super) fn wrong(self, at: Range<usize>, reason: impl Into<String>) -> SheetError {
        SheetError::at(self.0, at.start, reason)
    }

    pub(super) fn value<T>(
        self,
        value: Spanned<T>,
        must_be: &str,
        is: impl FnOnce(&T) -> bool,
    ) -> Result<T, SheetError> {
        if !is(value.get_ref()) {
            return Err(self.wrong(value.span(), format!("must be {must_be}")));
        }
        Ok(value.into_inner())
    }

    pub(super) fn words(self, text: Spanned<String>, what: &str) -> Result<String, SheetError> {
        self.value(text, what, |text| !text.trim().is_empty())
    }

    pub(super) fn limit(self, read: text::Limit, unit: LimitUnit) -> Result<Limit, SheetError> {
        Ok(Limit {
            value: self.above_0(read.value)?,
            unit: self.unit(read.unit, unit)?,
            severity: self.value(read.severity, "\"fail\" or \"note\"", |severity| {
                *severity != Severity::CannotTell
            })?,
            explains_complaint: read.explains_complaint,
            source: self.words(read.source, "where the limit comes from")?,
        })
    }

    pub(super) fn sibling_difference(
        self,
        read: text::SiblingDifference,
    ) -> Result<SiblingDifference, SheetError> {
        let or_percent = self.value(read.or_percent, "a percentage from 0 to 1000", |percent| {
            (0.0..=1000.0).contains(percent)
        })?;
        let limit = text::Limit {
            value: read.value,
            unit: read.unit,
            severity: read.severity,
            explains_complaint: read.explains_complaint,
            source: read.source,
        };
        Ok(SiblingDifference { limit: self.limit(limit, LimitUnit::Ohm)?, or_percent })
    }

    pub(super) fn leakage(self, read: text::Leakage) -> Result<Leakage, SheetError> {
        let (note_at, fail_at) = (read.note_below.severity.span(), read.fail_below.severity.span());
        let fail_value_at = read.fail_below.value.span();
        let note_below = self.limit(read.note_below, LimitUnit::Ohm)?;
        let fail_below = self.limit(read.fail_below, LimitUnit::Ohm)?;
        if note_below.severity != Severity::Note {
            return Err(self.wrong(note_at, "must be \"note\" here"));
        }
        if fail_below.severity != Severity::Fail {
            return Err(self.wrong(fail_at, "must be \"fail\" here"));
        }
        if fail_below.value > note_below.value {
            return Err(self.wrong(fail_value_at, "must not be above `leakage.note_below`"));
        }
        Ok(Leakage { note_below, fail_below })
    }

    /// Bounds of what is above 0.
    pub(super) fn bounds_above_0(
        self,
        read: text::Bounds,
        unit: LimitUnit,
    ) -> Result<Bounds, SheetError> {
        let least_at = read.least.span();
        let bounds = self.bounds(read, unit)?;
        if bounds.least <= 0.0 {
            return Err(self.wrong(least_at, "must be above 0"));
        }
        Ok(bounds)
    }

    pub(super) fn bounds(self, read: text::Bounds, unit: LimitUnit) -> Result<Bounds, SheetError> {
        let most_at = read.most.span();
        let finite = |volts: &f64| volts.is_finite();
        let least = self.value(read.least, "a number", finite)?;
        let most = self.value(read.most, "a number", finite)?;
        if least > most {
            return Err(self.wrong(most_at, "must not be below `least`"));
        }
        Ok(Bounds {
            least,
            most,
            unit: self.unit(read.unit, unit)?,
            source: self.words(read.source, "where the limits come from")?,
        })
    }

    pub(super) fn quantity(
        self,
        read: text::Quantity,
        unit: LimitUnit,
    ) -> Result<Quantity, SheetError> {
        Ok(Quantity {
            value: self.above_0(read.value)?,
            unit: self.unit(read.unit, unit)?,
            source: self.words(read.source, "where it comes from")?,
        })
    }

    fn above_0(self, value: Spanned<f64>) -> Result<f64, SheetError> {
        self.value(value, "a number above 0", |value| *value > 0.0 && value.is_finite())
    }

    fn unit(self, read: Spanned<LimitUnit>, unit: LimitUnit) -> Result<LimitUnit, SheetError> {
        let must_be = match unit {
            LimitUnit::Ohm => "\"ohm\"",
            LimitUnit::Percent => "\"percent\"",
            LimitUnit::Metre => "\"metre\"",
            LimitUnit::Volt => "\"volt\"",
            LimitUnit::PicofaradPerMetre => "\"picofarad-per-metre\"",
            LimitUnit::Ampere => "\"ampere\"",
        };
        self.value(read, must_be, |read| *read == unit)
    }
}
