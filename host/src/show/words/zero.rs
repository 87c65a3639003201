//! The jig's zero, in words.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::Zeroed;

use crate::arguments::Units;

/// What the person does before one is taken.
pub(crate) fn zero_steps(is_simulated: bool) -> Vec<(String, String)> {
    let step = |label: &str, text: &str| (label.to_owned(), text.to_owned());
    if is_simulated {
        return vec![step("simulated", "nobody has to do anything.")];
    }
    vec![
        step("first", "take the jig off every run: a zero is of jig and end plug alone."),
        step(
            "clips",
            "put the four clips of the plug's tail on the jig's clips of the same number, metal on metal.",
        ),
        step("key", "in. The plug is read as soon as it is seen; Enter reads it at once."),
        step(
            "then",
            "take the key out, and touch nothing: the jig's voltmeter is read, which `runproof live` stands on.",
        ),
    ]
}

/// How it served a result; nothing to say of a jig that was never zeroed.
pub(crate) fn zero(judgement: &Judgement, units: Units) -> Option<String> {
    let zero = judgement.zero?;
    if !zero.used {
        return Some(
            "the jig's zero contradicts the readings, so the numbers stand without it: it is of another \
             end plug, or jig or plug has changed. Take it again with `runproof zero`."
                .into(),
        );
    }
    let again = if zero.again { ": take it again with `runproof zero`." } else { "." };
    Some(format!("{}, {}{again}", age(&zero), warmer(&zero, units)))
}

fn age(zero: &Zeroed) -> String {
    match zero.age_days {
        None => "of unknown age".into(),
        Some(days) if days < 0.0 => "taken later than the run was measured".into(),
        Some(days) if days < 1.0 => "less than a day old".into(),
        Some(days) if days < 2.0 => "1 day old".into(),
        Some(days) => format!("{days:.0} days old"),
    }
}

fn warmer(zero: &Zeroed, units: Units) -> String {
    let (per_kelvin, unit) = match units {
        Units::Us => (1.8, "°F"),
        Units::Metric => (1.0, "°C"),
    };
    match zero.warmer_k.map(|kelvins| kelvins * per_kelvin) {
        None => "how warm the jig was is not known".into(),
        Some(degrees) if degrees.abs() < 0.5 => "the jig as warm as then".into(),
        Some(degrees) if degrees > 0.0 => format!("the jig {degrees:.0} {unit} warmer than then"),
        Some(degrees) => format!("the jig {:.0} {unit} colder than then", -degrees),
    }
}
