//! What is wrong with a reel, or could not be told of it.

use super::Declared;
use super::known_length::PerLength;
use super::mean::{At20C, Mean};
use crate::judgement::{
    GaugeCheck, GaugeReason, Interval, Judgement, Material, MaterialToldBy, ReelFinding,
    ReelFindingKind, ReelUnit, Severity, Warming, Wire,
};

/// All that findings follow from.
pub(super) struct Seen<'a> {
    pub(super) declared: &'a Declared,
    pub(super) run: &'a Judgement,
    pub(super) warming: Option<Warming>,
    pub(super) read_twice: bool,
    pub(super) mean: Option<Mean>,
    /// At 20 °C, of a reel that does not drift.
    pub(super) told: Option<At20C>,
    pub(super) per_length: Option<PerLength>,
    pub(super) gauge: &'a GaugeCheck,
    pub(super) material: &'a Material,
    pub(super) length: Option<Interval>,
    pub(super) wire: Option<&'a Wire>,
}

/// The gravest first.
pub(super) fn of(seen: &Seen<'_>) -> Vec<ReelFinding> {
    use ReelFindingKind as Kind;
    let mut all = vec![];
    let mut add = |kind, severity| all.push(plain(kind, severity));
    if seen.declared.buried {
        add(Kind::Buried, Severity::CannotTell);
    } else if seen.mean.is_some() {
        not_told(seen, &mut add);
    }
    all.extend(warming(seen));
    if seen.told.is_some() {
        all.extend(metal(seen));
        all.extend(size(seen));
    }
    all.extend(longer(seen));
    all.sort_by_key(|finding| finding.severity);
    all
}

/// What was not told, or not read, that a result needs.
fn not_told(seen: &Seen<'_>, add: &mut dyn FnMut(ReelFindingKind, Severity)) {
    use ReelFindingKind as Kind;
    if seen.declared.copper_c.is_none() {
        add(Kind::TemperatureNotTold, Severity::CannotTell);
    }
    if !seen.read_twice {
        add(Kind::NotReadTwice, Severity::CannotTell);
    }
    if seen.wire.is_none() {
        add(Kind::GaugeNotDeclared, Severity::CannotTell);
    }
}

fn warming(seen: &Seen<'_>) -> Option<ReelFinding> {
    let warming = seen.warming.filter(|one| one.still_warming)?;
    Some(ReelFinding {
        value: Some(warming.drift_ohm),
        limit: Some(warming.repeatability_ohm),
        unit: Some(ReelUnit::Ohm),
        ..plain(ReelFindingKind::StillWarming, Severity::CannotTell)
    })
}

/// That control wiring must be copper is common practice: its listings are of copper, and none of another metal is cited.
fn metal(seen: &Seen<'_>) -> Option<ReelFinding> {
    use ReelFindingKind as Kind;
    let material = seen.material;
    if material.disagree {
        return Some(plain(Kind::MaterialDisagrees, Severity::CannotTell));
    }
    if material.contradicts_copper() {
        let alone = material.by == [MaterialToldBy::Weight];
        let kind = if alone { Kind::LighterThanCopper } else { Kind::CopperClad };
        return Some(per_length(seen, plain(kind, Severity::Fail)));
    }
    let size_told =
        matches!(seen.gauge.reason, GaugeReason::MoreThanDeclared | GaugeReason::LessThanDeclared);
    let untold = material.told.is_none() && seen.wire.is_some() && !size_told;
    untold.then(|| plain(Kind::MaterialNotTold, Severity::CannotTell))
}

fn size(seen: &Seen<'_>) -> Option<ReelFinding> {
    use ReelFindingKind as Kind;
    let too_short = seen.wire.is_some() && seen.length.is_none() && !seen.material.disagree;
    let (kind, severity) = match seen.gauge.reason {
        GaugeReason::MoreThanDeclared if !seen.material.contradicts_copper() => {
            (Kind::ThinnerThanDeclared, Severity::Fail)
        }
        GaugeReason::LessThanDeclared => (Kind::LessThanDeclared, Severity::CannotTell),
        GaugeReason::TooClose if !seen.material.contradicts_copper() => {
            (Kind::TooCloseToGauge, Severity::CannotTell)
        }
        _ if too_short => (Kind::TooShort, Severity::CannotTell),
        _ => return None,
    };
    let limit = match kind {
        Kind::LessThanDeclared => seen.wire.map(|wire| wire.plausible_ohm_per_km),
        Kind::TooCloseToGauge => seen.gauge.passes_to_ohm_per_km,
        _ => seen.gauge.fails_above_ohm_per_km,
    };
    Some(ReelFinding { limit, ..per_length(seen, plain(kind, severity)) })
}

/// Where the two lengths' intervals leave no doubt.
fn longer(seen: &Seen<'_>) -> Option<ReelFinding> {
    let (now, before) = (seen.length?, seen.declared.before?);
    (now.least > before.most_m).then(|| ReelFinding {
        value: Some(now.value),
        expanded_uncertainty: Some(now.width() / 2.0),
        limit: Some(before.metres),
        unit: Some(ReelUnit::Metre),
        ..plain(ReelFindingKind::LongerThanBefore, Severity::Note)
    })
}

fn per_length(seen: &Seen<'_>, finding: ReelFinding) -> ReelFinding {
    let Some(one) = seen.per_length else { return finding };
    ReelFinding {
        value: Some(one.ohm_per_km),
        expanded_uncertainty: Some(one.expanded),
        limit: seen.gauge.fails_above_ohm_per_km,
        unit: Some(ReelUnit::OhmPerKilometre),
        ..finding
    }
}

fn plain(kind: ReelFindingKind, severity: Severity) -> ReelFinding {
    ReelFinding { kind, severity, value: None, expanded_uncertainty: None, limit: None, unit: None }
}
