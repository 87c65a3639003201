//! Are the cores as thick as declared? By what a kilometre has, where a length is known beside the resistance.

use super::Declared;
use super::known_length::PerLength;
use super::mean::At20C;
use super::wire::{halfway_to_thinner_ohm_per_km, standard};
use crate::copper::{Gauge, Size};
use crate::judgement::{GaugeCheck, GaugeReason, Material, MaterialToldBy, Metal, Verdict, Wire};

/// From one AWG number to the next a conductor has so many times the resistance: 92^(2/39) (ASTM B258). Of a resistance
/// that was told without a gauge the next thinner size is taken to be so far.
const NEXT_NUMBER: f64 = 1.261;

/// Fail where it is surely beyond what the declared size may have. Pass where it is surely nearer to that than to the next
/// thinner size: the standard's own margin of some percent is finer than most reels can be measured.
pub(super) fn check(
    declared: &Declared,
    wire: Option<&Wire>,
    per_length: Option<PerLength>,
    material: &Material,
    at_20_c: Option<At20C>,
) -> GaugeCheck {
    let fits = per_length.map(|one| fitting(declared, one)).unwrap_or_default();
    let Some(wire) = wire else {
        return GaugeCheck {
            verdict: Verdict::CannotTell,
            reason: GaugeReason::NotDeclared,
            fits,
            fails_above_ohm_per_km: None,
            passes_to_ohm_per_km: None,
        };
    };
    let passes_to = match declared.gauge {
        Some(gauge) => halfway_to_thinner_ohm_per_km(wire, gauge),
        None => (wire.allowed_ohm_per_km * wire.plausible_ohm_per_km * NEXT_NUMBER).sqrt(),
    };
    let weighed =
        material.by.contains(&MaterialToldBy::Weight) && material.told == Some(Metal::Copper);
    let reason = match per_length {
        None if at_20_c.is_none() => GaugeReason::NotMeasured,
        // Resistance and weight of the declared cable fit each other: the next thinner one weighs a third less.
        None if weighed => GaugeReason::AsDeclared,
        None => GaugeReason::LengthNotKnown,
        Some(one) if one.least() > wire.allowed_ohm_per_km => GaugeReason::MoreThanDeclared,
        Some(one) if one.most() < wire.plausible_ohm_per_km => GaugeReason::LessThanDeclared,
        Some(one) if one.most() <= passes_to => GaugeReason::AsDeclared,
        Some(_) => GaugeReason::TooClose,
    };
    let verdict = match reason {
        GaugeReason::AsDeclared => Verdict::Pass,
        GaugeReason::MoreThanDeclared => Verdict::Fail,
        _ => Verdict::CannotTell,
    };
    GaugeCheck {
        verdict,
        reason,
        fits,
        fails_above_ohm_per_km: Some(wire.allowed_ohm_per_km),
        passes_to_ohm_per_km: Some(passes_to),
    }
}

/// Copper of the declared make and system that may have so much.
pub(super) fn fitting(declared: &Declared, per_length: PerLength) -> Vec<Gauge> {
    let is_awg = |gauge: &Gauge| matches!(gauge.size, Size::Awg(_));
    let strands = declared.gauge.and_then(|gauge| gauge.strands);
    let all = Gauge::sold().map(|gauge| Gauge { strands, ..gauge });
    let all = all.filter(|gauge| declared.gauge.is_none_or(|told| is_awg(&told) == is_awg(gauge)));
    let fits = |gauge: &Gauge| {
        let ([least, most], _) = standard(*gauge, declared.surface);
        least <= per_length.most() && per_length.least() <= most
    };
    all.filter(fits).collect()
}
