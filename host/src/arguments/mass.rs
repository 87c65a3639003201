//! Weights, and what a length of cable has, each with its unit.

const KG_PER_LB: f64 = 0.453_592_37;
const KM_PER_KFT: f64 = 0.3048;

pub(super) fn kilograms(text: &str) -> Result<f64, String> {
    of(text, &[("kg", 1.0), ("lb", KG_PER_LB)], "a weight with its unit, such as 31.5lb or 14.3kg")
}

pub(super) fn kg_per_km(text: &str) -> Result<f64, String> {
    let units = [("kg/km", 1.0), ("lb/kft", KG_PER_LB / KM_PER_KFT), ("g/m", 1.0)];
    of(text, &units, "a weight per length with its unit, such as 27lb/kft or 40kg/km")
}

pub(super) fn ohm_per_km(text: &str) -> Result<f64, String> {
    let per_kft = 1.0 / KM_PER_KFT;
    let units = [("ohm/km", 1.0), ("ω/km", 1.0), ("ohm/kft", per_kft), ("ω/kft", per_kft)];
    of(text, &units, "a resistance per length with its unit, such as 6.39ohm/kft or 20.95ohm/km")
}

pub(super) fn picofarad_per_m(text: &str) -> Result<f64, String> {
    let units = [("pf/m", 1.0), ("pf/ft", 1.0 / KM_PER_KFT)];
    of(text, &units, "a capacitance per length with its unit, such as 32pF/ft or 105pF/m")
}

fn of(text: &str, units: &[(&str, f64)], must_be: &str) -> Result<f64, String> {
    let text: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let text = text.to_lowercase();
    let found = units.iter().find_map(|(unit, factor)| {
        let number: f64 = text.strip_suffix(unit)?.parse().ok()?;
        (number >= 0.0 && number.is_finite()).then_some(number * factor)
    });
    found.ok_or_else(|| must_be.to_owned())
}

#[test]
fn every_number_needs_its_unit() {
    let near = |found: Result<f64, String>, value: f64| {
        assert!((found.expect("a number") / value - 1.0).abs() < 1e-4, "{value}");
    };
    near(kilograms("31.5 lb"), 14.288);
    near(kg_per_km("27lb/kft"), 40.180);
    near(ohm_per_km("6.385 Ω/kft"), 20.948);
    near(picofarad_per_m("32 pF/ft"), 104.99);
    for wrong in ["", "31", "31lbs", "-3kg", "nankg", "kg"] {
        assert!(kilograms(wrong).is_err(), "{wrong}");
    }
}
