//! What a shop declares of a reel: what its label says, how warm it lies, where its marks are, what it weighs.

mod marks;
mod reeled;

pub use marks::Marks;
pub use reeled::Reeled;
use serde::{Deserialize, Serialize};

use crate::copper::{CelsiusRange, Gauge, OHM_MM2_PER_M, Surface};

/// All of it may be missing; what then cannot be told is told.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Declared {
    /// What the shop calls the reel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Size of its cores, solid or stranded where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gauge: Option<Gauge>,
    /// Plain or tinned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surface: Option<Surface>,
    /// What its maker states of one core at 20 °C, in place of the gauge's nominal resistance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ohm_per_km: Option<f64>,
    /// How far the mean of its cores may be off that, or off the nominal, in place of what the standard allows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wire_tolerance_percent: Option<f64>,
    /// The copper is at least and at most so warm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub copper_c: Option<CelsiusRange>,
    /// What is printed on the jacket at its two ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub marks: Option<Marks>,
    /// How far printed marks may be off.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub marks_tolerance_percent: Option<f64>,
    /// The reel as it stands on the scale.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weight_kg: Option<f64>,
    /// The empty reel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tare_kg: Option<f64>,
    /// What its maker states of the whole cable, cores of copper.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cable_kg_per_km: Option<f64>,
    /// Cores in the jacket, four of them on the posts; four unless told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cores: Option<u8>,
    /// What a metre of one core has to all the others together, as it is stated of this cable.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub picofarad_per_m: Option<f64>,
    /// How far that may be off.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub picofarad_tolerance_percent: Option<f64>,
    /// The inner end cannot be reached: the end plug never goes on.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub buried: bool,
    /// The last record of this reel that told its length.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub before: Option<Reeled>,
}

/// A tolerance that is told: less is nothing, more is no tolerance. [judgement]
const PERCENT: std::ops::RangeInclusive<f64> = 0.01..=25.0;
/// Beyond these no control cable is. [judgement]
const OHM_PER_KM: std::ops::RangeInclusive<f64> = 1.0..=1_000.0;
const KILOGRAMS: std::ops::RangeInclusive<f64> = 0.0..=2_000.0;
const KG_PER_KM: std::ops::RangeInclusive<f64> = 1.0..=5_000.0;
const CORES: std::ops::RangeInclusive<u8> = 4..=100;
const PICOFARAD_PER_M: std::ops::RangeInclusive<f64> = 10.0..=1_000.0;

impl Declared {
    /// The first number that none of a reel can be.
    pub fn impossible(&self) -> Option<NoReel> {
        let within = |value: Option<f64>, range: &std::ops::RangeInclusive<f64>| {
            value.is_none_or(|value| range.contains(&value))
        };
        let each = [
            (within(self.ohm_per_km, &OHM_PER_KM), "ohm_per_km", "1 to 1000 Ω/km"),
            (
                self.is_like_its_gauge(),
                "ohm_per_km",
                "within 0.7 to 1.4 times what its gauge has: is it per km, or per 1000 ft?",
            ),
            (within(self.wire_tolerance_percent, &PERCENT), "wire_tolerance_percent", PERCENTS),
            (within(self.marks_tolerance_percent, &PERCENT), "marks_tolerance_percent", PERCENTS),
            (within(self.weight_kg, &KILOGRAMS), "weight_kg", "0 to 2000 kg"),
            (within(self.tare_kg, &KILOGRAMS), "tare_kg", "0 to 2000 kg"),
            (self.net_kg().is_none_or(|net| net > 0.0), "tare_kg", "less than the whole reel"),
            (within(self.cable_kg_per_km, &KG_PER_KM), "cable_kg_per_km", "1 to 5000 kg/km"),
            (self.cores.is_none_or(|cores| CORES.contains(&cores)), "cores", "4 to 100"),
            (within(self.picofarad_per_m, &PICOFARAD_PER_M), "picofarad_per_m", "10 to 1000 pF/m"),
            (
                within(self.picofarad_tolerance_percent, &PERCENT),
                "picofarad_tolerance_percent",
                PERCENTS,
            ),
        ];
        let wrong = each.into_iter().find(|(holds, ..)| !holds);
        wrong.map(|(_, key, must_be)| NoReel { key, must_be })
    }

    /// What its maker states is of a core of the size that was declared.
    fn is_like_its_gauge(&self) -> bool {
        let (Some(ohm_per_km), Some(gauge)) = (self.ohm_per_km, self.gauge) else { return true };
        let nominal_ohm_per_km = 1e3 * OHM_MM2_PER_M / gauge.nominal_mm2();
        (0.7..=1.4).contains(&(ohm_per_km / nominal_ohm_per_km))
    }

    /// Of the cable alone.
    pub(crate) fn net_kg(&self) -> Option<f64> {
        Some(self.weight_kg? - self.tare_kg?)
    }
}

const PERCENTS: &str = "0.01 to 25 %";

/// No reel is like what was declared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("its `{key}` must be {must_be}")]
pub struct NoReel {
    /// What was declared.
    pub key: &'static str,
    /// What it must be.
    pub must_be: &'static str,
}

#[test]
fn what_no_reel_can_be_is_named() {
    let wrong = |declared: Declared| declared.impossible().map(|wrong| wrong.key);
    let of = Declared::default;
    assert_eq!(wrong(of()), None);
    assert_eq!(wrong(Declared { ohm_per_km: Some(0.0), ..of() }), Some("ohm_per_km"));
    let per_kft = Declared { ohm_per_km: Some(6.39), gauge: "18awg".parse().ok(), ..of() };
    assert_eq!(wrong(per_kft), Some("ohm_per_km"));
    let stated = Declared { ohm_per_km: Some(21.0), gauge: "18awg".parse().ok(), ..of() };
    assert_eq!(wrong(stated), None);
    assert_eq!(wrong(Declared { cores: Some(3), ..of() }), Some("cores"));
    assert_eq!(wrong(Declared { weight_kg: Some(f64::NAN), ..of() }), Some("weight_kg"));
    let light = Declared { weight_kg: Some(2.0), tare_kg: Some(2.0), ..of() };
    assert_eq!(wrong(light), Some("tare_kg"));
    let off = Declared { marks_tolerance_percent: Some(26.0), ..of() };
    assert_eq!(wrong(off), Some("marks_tolerance_percent"));
}

#[test]
fn what_is_declared_comes_back_from_text() {
    let declared = Declared {
        id: Some("R-7".into()),
        gauge: "18awg-stranded".parse().ok(),
        surface: Some(Surface::Tinned),
        copper_c: "18..22C".parse().ok(),
        marks: "102ft..348ft".parse().ok(),
        buried: true,
        before: Some(Reeled { taken_unix_s: None, metres: 75.0, least_m: 73.0, most_m: 77.0 }),
        ..Declared::default()
    };
    let text = serde_json::to_string(&declared).expect("text");
    assert_eq!(serde_json::from_str::<Declared>(&text).ok(), Some(declared), "{text}");
    assert_eq!(serde_json::from_str::<Declared>("{}").ok(), Some(Declared::default()));
    assert!(serde_json::from_str::<Declared>(r#"{"guage":"18awg"}"#).is_err(), "no such fact");
}
