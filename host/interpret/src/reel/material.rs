//! Copper, or aluminium with a skin of copper? Resistance alone does not tell: a second quantity must.

use super::Declared;
use super::gauge_check::fitting;
use super::known_length::PerLength;
use super::mean::At20C;
use super::weight::{self, Weighed};
use crate::copper::Gauge;
use crate::judgement::{LengthBy, Material, MaterialToldBy, Metal, Wire};

/// How many times the resistance of copper of the same size copper-clad aluminium has. At the most 1/0.629: class 10A of
/// ASTM B566 has at least 62.9 % of copper's conductivity (one supplier's sheet that cites it). At the least 1/0.676: 17 %
/// copper by volume, the most of class 15A (the same), beside aluminium of 61 % (IEC 60889), by the rule of mixtures.
pub(super) const COPPER_CLAD: [f64; 2] = [1.0 / 0.676, 1.0 / 0.629];

impl Material {
    /// What was found is no copper of the declared size, so that its resistance tells no length.
    pub(super) fn contradicts_copper(&self) -> bool {
        self.told == Some(Metal::CopperCladAluminium)
    }
}

pub(super) fn material(
    declared: &Declared,
    wire: Option<&Wire>,
    at_20_c: Option<At20C>,
    per_length: Option<PerLength>,
) -> Material {
    let nothing = Material { told: None, by: vec![], or_copper_of: vec![], disagree: false };
    let Some(wire) = wire else { return nothing };
    let clad =
        [wire.plausible_ohm_per_km * COPPER_CLAD[0], wire.allowed_ohm_per_km * COPPER_CLAD[1]];
    let by_length = per_length.and_then(|one| {
        let by = match one.by {
            LengthBy::Marks => MaterialToldBy::Marks,
            LengthBy::Capacitance => MaterialToldBy::Capacitance,
        };
        Some((by_length(one, wire, clad)?, by))
    });
    let weighed = at_20_c.and_then(|one| weight::tells(declared, wire, one));
    let by_weight = match weighed {
        Some(Weighed::Fits(metal)) => Some((metal, MaterialToldBy::Weight)),
        Some(Weighed::FitsNeither) => return Material { disagree: true, ..nothing },
        None => None,
    };
    let told: Vec<(Metal, MaterialToldBy)> = [by_length, by_weight].into_iter().flatten().collect();
    let Some((metal, _)) = told.first() else { return nothing };
    let disagree = told.iter().any(|(other, _)| other != metal);
    let is_clad = *metal == Metal::CopperCladAluminium;
    let or_copper_of: Vec<Gauge> = match per_length {
        Some(one) if is_clad => fitting(declared, one),
        _ => vec![],
    };
    Material {
        told: (!disagree).then_some(*metal),
        by: told.iter().map(|(_, by)| *by).collect(),
        or_copper_of,
        disagree,
    }
}

fn by_length(one: PerLength, wire: &Wire, [least_clad, most_clad]: [f64; 2]) -> Option<Metal> {
    let may_be_copper =
        one.least() <= wire.allowed_ohm_per_km && one.most() >= wire.plausible_ohm_per_km;
    let may_be_clad = one.least() <= most_clad && one.most() >= least_clad;
    match (may_be_copper, may_be_clad) {
        (true, false) => Some(Metal::Copper),
        (false, true) => Some(Metal::CopperCladAluminium),
        _ => None,
    }
}
