//! How far off what is stated is.

use super::stated;
use crate::Outcome;
use crate::class::Class;
use crate::numbers::{Numbers, Stated};
use crate::statistics::quantiles;

/// Errors: median, 95th percentile, the largest.
pub(crate) struct Errors {
    pub(crate) what: &'static str,
    pub(crate) n: usize,
    pub(crate) quantiles: Option<[f64; 3]>,
    /// Of the 95th percentile.
    pub(crate) most: Option<f64>,
}

pub(crate) fn errors(all: &[Outcome]) -> Vec<Errors> {
    let errors = |what, most, values: Vec<f64>| Errors {
        what,
        n: values.len(),
        quantiles: quantiles(values),
        most,
    };
    let off = |class: Option<Class>, what: fn(&Numbers) -> Option<Stated>| -> Vec<f64> {
        let of = move |one: &Outcome| class.is_none_or(|class| one.drawn.class == class);
        stated(all, of, what).map(|(_, one)| one.off).collect()
    };
    let places = |class: Class, even: Option<bool>, what: fn(&Numbers) -> Option<Stated>| {
        let of = move |one: &Outcome| {
            one.drawn.class == class && even.is_none_or(|is| one.drawn.is_of_even_length == is)
        };
        stated(all, of, what)
    };
    let metres = |even| -> Vec<f64> {
        let shorts = places(Class::Short, even, |one| one.short_place);
        shorts.map(|(one, place)| place.off * one.drawn.scene.run.length_m).collect()
    };
    let opens = |even| -> Vec<f64> {
        let opens = places(Class::Open, even, |one| one.open_place);
        opens.map(|(_, place)| 100.0 * place.off).collect()
    };
    let percent = |values: Vec<f64>| values.into_iter().map(|value| 100.0 * value).collect();
    let zeroed = stated(all, |one| one.drawn.zeroed_at_c.is_some(), |one| one.resistance);
    let zeroed = zeroed.map(|(_, one)| one.off);
    vec![
        errors("resistance, Ω, all runs", None, off(None, |one| one.resistance)),
        errors("  jig zeroed", None, zeroed.collect()),
        errors("  sound runs", None, off(Some(Class::Sound), |one| one.resistance)),
        errors("short place, m", None, metres(None)),
        errors("  lengths drawn evenly", Some(2.5), metres(Some(true))),
        errors("  lengths drawn by decades", None, metres(Some(false))),
        errors(
            "short place, % of the run",
            None,
            percent(off(Some(Class::Short), |one| one.short_place)),
        ),
        errors("open place, % of the run", None, opens(None)),
        errors("  lengths drawn evenly", Some(2.5), opens(Some(true))),
        errors("  lengths drawn by decades", None, opens(Some(false))),
        errors("leakage, % of it", None, percent(off(Some(Class::Leak), |one| one.leak))),
    ]
}
