//! What a reel's weight tells of its metal: with its resistance, without its length.

use super::Declared;
use super::clad::COPPER_CLAD;
use super::interval::half_width;
use super::mean::At20C;
use crate::copper::OHM_MM2_PER_M;
use crate::judgement::{Metal, Wire};

/// Copper, g/cm³: kilograms a kilometre and mm² (IEC 60028; from memory).
const COPPER_KG_PER_KM_MM2: f64 = 8.89;

/// Of copper-clad aluminium with 8 to 17 % copper by volume beside aluminium of 2.70; 3.32 and 3.63 of classes 10A and 15A
/// (0.120 and 0.131 lb/in³, one supplier's sheet that cites ASTM B566) lie within.
const CLAD_KG_PER_KM_MM2: [f64; 2] = [3.2, 3.8];

/// What a maker states of a cable's weight may be off by so much, and a shop's scale is within that. [judgement]
const WEIGHT_OFF: f64 = 0.10;

/// Unless told.
const CORES: u8 = 4;

/// What a weight came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Weighed {
    Fits(Metal),
    /// Neither of the two has this weight and this resistance.
    FitsNeither,
}

/// Absent where the weight was not told, or decides nothing: without the cable's own weight per length it can only be too
/// light for copper.
pub(super) fn tells(declared: &Declared, wire: &Wire, at_20_c: At20C) -> Option<Weighed> {
    let net_kg = declared.net_kg()?;
    let cores = f64::from(declared.cores.unwrap_or(CORES));
    // By the declared gauge; else as thick as copper of that resistance is.
    let mm2 = match declared.gauge {
        Some(gauge) => gauge.nominal_mm2(),
        None => 1e3 * OHM_MM2_PER_M / wire.middle_ohm_per_km(),
    };
    let km = at_20_c.ohm / wire.middle_ohm_per_km();
    let off = half_width(&[wire.half_width(), at_20_c.warmth], &[at_20_c.u]);
    let bare_kg_per_km = cores * mm2 * COPPER_KG_PER_KM_MM2;
    let Some(kg_per_km) = declared.cable_kg_per_km else {
        let light = net_kg < bare_kg_per_km * km * (1.0 - off);
        return light.then_some(Weighed::Fits(Metal::CopperCladAluminium));
    };
    if kg_per_km <= bare_kg_per_km {
        return Some(Weighed::FitsNeither); // of another cable
    }
    let fits = |least_kg: f64, most_kg: f64| {
        let off = half_width(&[WEIGHT_OFF, off], &[]);
        (least_kg * (1.0 - off)..=most_kg * (1.0 + off)).contains(&net_kg)
    };
    let clad_km = COPPER_CLAD.map(|factor| km / factor);
    let clad_kg_per_km = CLAD_KG_PER_KM_MM2.map(|kg| kg_per_km - bare_kg_per_km + cores * mm2 * kg);
    let copper = fits(kg_per_km * km, kg_per_km * km);
    let clad = fits(clad_kg_per_km[0] * clad_km[1], clad_kg_per_km[1] * clad_km[0]);
    match (copper, clad) {
        (true, false) => Some(Weighed::Fits(Metal::Copper)),
        (false, true) => Some(Weighed::Fits(Metal::CopperCladAluminium)),
        (false, false) => Some(Weighed::FitsNeither),
        (true, true) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::copper::Surface;

    /// Of 1000 ft of four 18 AWG cores with so many ohms each: 27 lb as copper.
    fn told(ohm: f64, net_lb: f64, cable_lb_per_kft: Option<f64>) -> Option<Weighed> {
        const KG_PER_LB: f64 = 0.453_592_37;
        let declared = Declared {
            gauge: "18awg-solid".parse().ok(),
            surface: Some(Surface::Plain),
            weight_kg: Some(net_lb * KG_PER_LB + 2.0),
            tare_kg: Some(2.0),
            cable_kg_per_km: cable_lb_per_kft.map(|lb| lb * KG_PER_LB / 0.3048),
            ..Declared::default()
        };
        let wire = declared.wire().expect("a gauge");
        tells(&declared, &wire, At20C { ohm, u: 0.01, warmth: 0.004 })
    }

    /// 1000 ft have 6.385 Ω as copper (wire tables), 1/0.629 of that as class 10A of ASTM B566. Four cores of 0.823 mm² are
    /// 29.3 kg/km of copper, 19.7 lb/kft; with what is around them 27. Of copper-clad aluminium, 3.32 g/cm³, they are 15.
    #[test]
    fn copper_and_copper_clad_by_their_weight() {
        let (copper, clad) = (6.385, 6.385 / 0.629);
        assert_eq!(told(copper, 27.0, Some(27.0)), Some(Weighed::Fits(Metal::Copper)));
        let light = Some(Weighed::Fits(Metal::CopperCladAluminium));
        assert_eq!(told(clad, 14.7, Some(27.0)), light);
        // Without the cable's own weight it is only too light for copper, never copper.
        assert_eq!(told(clad, 14.7, None), light);
        assert_eq!(told(copper, 27.0, None), None);
        assert_eq!(told(copper, 18.0, Some(27.0)), Some(Weighed::FitsNeither));
        assert_eq!(
            told(copper, 27.0, Some(15.0)),
            Some(Weighed::FitsNeither),
            "lighter than its copper"
        );
    }
}
