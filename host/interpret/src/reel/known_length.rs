//! Lengths that are known without the resistance: printed marks, and capacitance.

use super::Declared;
use super::interval::half_width;
use super::mean::At20C;
use crate::judgement::{Interval, Judgement, LengthBy, LooksLong, OhmPerLength};

/// Printed marks are not exact, where no tolerance of them is told. [judgement]
const MARKS_PERCENT: f64 = 1.0;

/// Marks are printed every 2 ft, or every metre: at each end up to half of that lies beyond the nearest. [judgement]
const ENDS_M: f64 = 0.6;

/// A stated capacitance per length, where no tolerance of it is told. [judgement]
const PICOFARAD_PERCENT: f64 = 5.0;

/// A length, and what makes it uncertain.
#[derive(Clone, Copy, Debug)]
pub(super) struct KnownLength {
    pub(super) metres: f64,
    /// It lies anywhere within ± this, as fractions.
    anywhere: [f64; 2],
    /// Relative standard uncertainty.
    normal: f64,
    by: LengthBy,
}

pub(super) fn marked(declared: &Declared) -> Option<KnownLength> {
    let metres = declared.marks?.metres();
    let off = declared.marks_tolerance_percent.unwrap_or(MARKS_PERCENT) / 100.0;
    let anywhere = [off, ENDS_M / metres];
    Some(KnownLength { metres, anywhere, normal: 0.0, by: LengthBy::Marks })
}

/// Of a reel whose cores are whole, and apart from each other.
pub(super) fn by_capacitance(run: &Judgement, declared: &Declared) -> Option<KnownLength> {
    run.looks_long?;
    let whole = run.conductors.iter().all(|one| declared.buried || one.resistance_ohm.is_some());
    let per_m = declared.picofarad_per_m.filter(|_| whole)?;
    let count = run.capacitance.len() as f64;
    let mean = run.capacitance.iter().map(|one| one.picofarads).sum::<f64>() / count;
    let u = run.capacitance.iter().map(|one| one.expanded_uncertainty_picofarads / 2.0);
    let normal = u.sum::<f64>() / count / mean;
    let off = declared.picofarad_tolerance_percent.unwrap_or(PICOFARAD_PERCENT) / 100.0;
    let metres = mean / per_m;
    (metres > 0.0 && normal.is_finite()).then_some(KnownLength {
        metres,
        anywhere: [off, 0.0],
        normal,
        by: LengthBy::Capacitance,
    })
}

/// By what the sheet says that a metre may have.
pub(super) fn by_sheet(looks: LooksLong) -> Interval {
    Interval { value: looks.metres, least: looks.least_m, most: looks.most_m }
}

impl KnownLength {
    /// Both cannot be true.
    pub(super) fn excludes(&self, other: &Self) -> bool {
        let [one, other] = [self.interval(), other.interval()];
        one.least > other.most || other.least > one.most
    }

    pub(super) fn interval(&self) -> Interval {
        let off = half_width(&self.anywhere, &[self.normal]);
        let [least, most] = [1.0 - off, 1.0 + off].map(|factor| factor * self.metres);
        Interval { value: self.metres, least, most }
    }

    /// Of so much resistance.
    pub(super) fn per_length(&self, at_20_c: At20C) -> PerLength {
        let [tolerance, ends] = self.anywhere;
        let off = half_width(&[tolerance, ends, at_20_c.warmth], &[self.normal, at_20_c.u]);
        let ohm_per_km = 1e3 * at_20_c.ohm / self.metres;
        PerLength { ohm_per_km, expanded: off * ohm_per_km.abs(), by: self.by }
    }
}

/// What a kilometre of one core has at 20 °C.
#[derive(Clone, Copy, Debug)]
pub(super) struct PerLength {
    pub(super) ohm_per_km: f64,
    /// 95 %.
    pub(super) expanded: f64,
    pub(super) by: LengthBy,
}

impl PerLength {
    pub(super) fn least(&self) -> f64 {
        self.ohm_per_km - self.expanded
    }

    pub(super) fn most(&self) -> f64 {
        self.ohm_per_km + self.expanded
    }

    pub(super) fn stated(&self) -> OhmPerLength {
        OhmPerLength {
            ohm_per_km: self.ohm_per_km,
            expanded_uncertainty_ohm_per_km: self.expanded,
            by: self.by,
        }
    }
}
