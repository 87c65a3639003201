//! Copper, or aluminium with a skin of copper? Resistance alone does not tell: a second quantity must.

use super::Declared;
use super::clad::COPPER_CLAD;
use super::gauge_check::fitting;
use super::known_length::PerLength;
use super::mean::At20C;
use super::weight::{self, Weighed};
use crate::copper::Gauge;
use crate::judgement::{LengthBy, Material, MaterialToldBy, Metal, Wire};

impl Material {
    /// What was found is no copper of the declared size, so that its resistance tells no length.
    pub(super) fn contradicts_copper(&self) -> bool {
        self.told == Some(Metal::CopperCladAluminium)
    }
}

/// `lengths_disagree`: marks and capacitance tell of two lengths, so that neither is known.
pub(super) fn material(
    declared: &Declared,
    lengths_disagree: bool,
    wire: Option<&Wire>,
    at_20_c: Option<At20C>,
    per_length: Option<PerLength>,
) -> Material {
    let nothing = Material { told: None, by: vec![], or_copper_of: vec![], disagree: false };
    if lengths_disagree {
        return Material { disagree: true, ..nothing };
    }
    let Some(wire) = wire else { return nothing };
    let clad =
        [wire.plausible_ohm_per_km * COPPER_CLAD[0], wire.allowed_ohm_per_km * COPPER_CLAD[1]];
    // What is as thick as nobody said may be of either.
    let by_length = per_length.filter(|_| declared.gauge.is_some()).and_then(|one| {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::copper::{OHM_MM2_PER_M, Surface};

    fn declared(gauge: &str) -> Declared {
        Declared { gauge: gauge.parse().ok(), surface: Some(Surface::Plain), ..Declared::default() }
    }

    fn told(gauge: &str, ohm_per_km: f64, percent: f64) -> Material {
        let declared = declared(gauge);
        let expanded = percent / 100.0 * ohm_per_km;
        let one = PerLength { ohm_per_km, expanded, by: LengthBy::Marks };
        material(&declared, false, declared.wire().as_ref(), None, Some(one))
    }

    /// Aluminium of 0.028264 Ω mm²/m (IEC 60889:1987; one page) beside 17 % of copper by volume, the most of class 15A
    /// (one supplier's sheet that cites ASTM B566): conductivities add by their areas.
    #[test]
    fn the_least_is_by_the_rule_of_mixtures() {
        let aluminium = OHM_MM2_PER_M / 0.028_264;
        let conducts = 0.17 + 0.83 * aluminium;
        assert!((1.0 / COPPER_CLAD[0] - conducts).abs() < 0.001, "{conducts}");
    }

    /// ASTM B566 (04a, reapproved 2021), by one supplier's sheet that cites it: class 10A at least 62.9 %, class 15A at
    /// least 64.4 % of copper's conductivity; and one supplier's product sheet, Ω/km at 20 °C by diameter in mm (weak: its
    /// copper column is of 94 %).
    #[test]
    fn what_suppliers_print_is_copper_clad() {
        for percent in [62.9, 64.4] {
            let found = told("18awg-solid", 20.948 / (percent / 100.0), 1.0);
            assert_eq!(found.told, Some(Metal::CopperCladAluminium), "{percent}");
            assert_eq!(
                found.or_copper_of.iter().map(Gauge::to_string).collect::<Vec<_>>(),
                ["20 AWG solid"]
            );
        }
        for (diameter_mm, ohm_per_km) in [(8.0, 0.543), (5.0, 1.391), (3.0, 3.863), (2.5, 5.563)] {
            let mm2 = std::f64::consts::PI / 4.0 * diameter_mm * diameter_mm;
            let times = ohm_per_km / (1e3 * OHM_MM2_PER_M / mm2);
            assert!((COPPER_CLAD[0]..=COPPER_CLAD[1]).contains(&times), "{diameter_mm}: {times}");
        }
    }

    #[test]
    fn copper_is_told_of_its_own_size_alone() {
        assert_eq!(told("18awg-solid", 20.948, 3.0).told, Some(Metal::Copper));
        // NFPA 70, chapter 9, table 8: 18 AWG of seven strands, uncoated, 7.95 Ω/kft at 75 °C.
        let strands = 7.95 / 0.3048 * (1.0 + 0.00323 * (20.0 - 75.0));
        assert_eq!(told("18awg-stranded", strands, 3.0).told, Some(Metal::Copper));
        // One number thinner: neither.
        assert_eq!(told("18awg-solid", 26.4, 3.0).told, None);
        // So uncertain that it may be both.
        assert_eq!(told("18awg-solid", 26.0, 30.0).told, None);
        assert_eq!(told("18awg-solid", f64::NAN, 3.0).told, None);
        assert_eq!(told("", 20.948, 3.0).told, None);
    }
}
