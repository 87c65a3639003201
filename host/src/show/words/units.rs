//! Lengths and temperatures in the units of the reader, and what was told of the run.

use runproof_interpret::RunKnowledge;
use runproof_interpret::copper::{Calculated, CelsiusRange, Length};
use runproof_interpret::judgement::{Interval, LooksLong};

use crate::arguments::Units;

/// "100 ft" or "30.5 m".
pub(crate) fn length(length: Length, units: Units) -> String {
    match units {
        Units::Us => format!("{} ft", to_tenth(length.feet())),
        Units::Metric => format!("{} m", to_tenth(length.metres())),
    }
}

/// "36 ft (23 to 54 ft)": no more digits than its interval is worth.
pub(crate) fn metres_between(metres: Interval, units: Units) -> String {
    let (per_m, unit) = match units {
        Units::Us => (1.0 / 0.3048, "ft"),
        Units::Metric => (1.0, "m"),
    };
    let Interval { value, least, most } = metres.times(per_m);
    // What is a whole number but for its last bit is that number.
    let (least, most) = ((least + 1e-9).floor(), (most - 1e-9).ceil());
    format!("{value:.0} {unit} ({least} to {most} {unit})")
}

/// ", and a run of 24 to 16 AWG with this resistance is 17 to 243 ft long".
pub(crate) fn usual_length(metres: Interval, units: Units) -> String {
    let (per_m, unit, sizes) = match units {
        Units::Us => (1.0 / 0.3048, "ft", "24 to 16 AWG"),
        Units::Metric => (1.0, "m", "0.2 to 1.5 mm²"),
    };
    let Interval { least, most, .. } = metres.times(per_m);
    let (least, most) = (least.floor(), most.ceil());
    format!(", and a run of {sizes} with this resistance is {least} to {most} {unit} long")
}

/// How long a run looks.
pub(crate) fn about(looks: &LooksLong, units: Units) -> String {
    let LooksLong { metres: value, least_m: least, most_m: most } = *looks;
    metres_between(Interval { value, least, most }, units)
}

/// "68 °F", "60 to 70 °C".
pub(in crate::show) fn temperature(range: CelsiusRange, units: Units) -> String {
    let (least, most, unit) = match units {
        Units::Us => (fahrenheit(range.least_c()), fahrenheit(range.most_c()), "°F"),
        Units::Metric => (range.least_c(), range.most_c(), "°C"),
    };
    let (least, most) = (to_tenth(least), to_tenth(most));
    let text =
        if least == most { format!("{most} {unit}") } else { format!("{least} to {most} {unit}") };
    text.replace('-', "−")
}

/// "18 AWG, 100 ft, a cable at 68 °F": what was told of the wire; nothing if nothing was.
pub(crate) fn wire(known: &RunKnowledge, units: Units) -> Option<String> {
    let warmth = (known.temperature != CelsiusRange::default())
        .then(|| format!("a cable at {}", temperature(known.temperature, units)));
    let size = known.gauge.map(|gauge| gauge.to_string());
    let parts = [size, known.length.map(|long| length(long, units)), warmth];
    let told: Vec<String> = parts.into_iter().flatten().collect();
    (!told.is_empty()).then(|| told.join(", "))
}

/// What was told of the run, and what follows for one conductor; nothing if nothing was told.
pub(crate) fn told(
    known: &RunKnowledge,
    calculated: Option<&Calculated>,
    units: Units,
) -> Option<String> {
    let parts =
        [known.gauge.map(|gauge| gauge.to_string()), known.length.map(|long| length(long, units))];
    let told: Vec<String> = parts.into_iter().flatten().collect();
    if told.is_empty() {
        return None;
    }
    let told = told.join(", ");
    let Some(Calculated { ohm, least_ohm, most_ohm, .. }) = calculated else {
        return Some(format!("{told}; with --gauge and --length both, a wire can be calculated."));
    };
    Some(format!(
        "{told}, at {}: a conductor is calculated to have {ohm:.2} Ω ({least_ohm:.2} to \
         {most_ohm:.2} Ω).",
        temperature(known.temperature, units)
    ))
}

fn fahrenheit(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}

/// A number without more digits than are worth telling.
fn to_tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}
