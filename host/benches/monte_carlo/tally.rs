//! Shares and errors that are counted over all runs, each with the bar that it is held against.

use runproof_interpret::LimitSheet;
use runproof_interpret::judgement::Verdict;

use crate::Outcome;
use crate::answer::Naming;
use crate::bars::Bar;
use crate::class::Class;
use crate::numbers::{Numbers, Stated};
use crate::statistics::{Share, quantiles};
use crate::truth::Fault;

/// A share, and what it is held against.
pub(crate) struct Row {
    pub(crate) what: &'static str,
    pub(crate) share: Share,
    pub(crate) bar: Bar,
}

fn row(what: &'static str, bar: Bar, all: impl Iterator<Item = bool>) -> Row {
    Row { what, share: Share::of_all(all), bar }
}

fn is(class: Class) -> impl Fn(&&Outcome) -> bool {
    move |one| one.drawn.class == class
}

/// Of those that must not pass, how many do; of those that must not fail, how many do.
pub(crate) fn false_verdicts(all: &[Outcome], sheet: &LimitSheet) -> Vec<Row> {
    use Class::{Device, Joint, Leak, NoPlug, Open, Short, Sound, WrongMap};
    let passes = |of: &dyn Fn(&&Outcome) -> bool| -> Vec<bool> {
        all.iter().filter(|one| of(one)).map(|one| one.answer.false_pass).collect()
    };
    let bad = |one: &&Outcome| one.truth.must_not_pass(sheet);
    let of = |class: Class| passes(&|one| is(class)(one) && bad(one)).into_iter();
    let two = passes(&|one| one.drawn.class.is_of_two() && bad(one)).into_iter();
    let good = all.iter().filter(|one| !one.truth.is_faulty(sheet));
    vec![
        row("false pass, of all runs", Bar::AtMost(1e-4), passes(&|_| true).into_iter()),
        row("false pass, of all that must not pass", Bar::AtMost(1e-4), passes(&bad).into_iter()),
        row("  wire beyond its limit", Bar::Unset, of(Sound)),
        row("  wrong map", Bar::None, of(WrongMap)),
        row("  open", Bar::None, of(Open)),
        row("  joint, beyond the limit", Bar::Unset, of(Joint)),
        row("  short", Bar::None, of(Short)),
        row("  leak, below 100 kΩ", Bar::Unset, of(Leak)),
        row("  no plug", Bar::None, of(NoPlug)),
        row("  device connected", Bar::None, of(Device)),
        row("  two faults", Bar::None, two),
        row(
            "false fail, of all runs",
            Bar::AtMost(5e-4),
            all.iter().map(|one| one.answer.false_fail),
        ),
        row(
            "false fail, of all that must not fail",
            Bar::AtMost(5e-4),
            good.map(|one| one.answer.false_fail),
        ),
    ]
}

/// What is named for what it is.
pub(crate) fn named_right(all: &[Outcome]) -> Vec<Row> {
    let right = |one: &Outcome| one.answer.naming == Naming::Right;
    let of = |class: Class| all.iter().filter(is(class));
    let leaks = |least_ohm: f64, most_ohm: f64| {
        of(Class::Leak).filter(move |one| {
            one.truth.has(|fault| {
                matches!(fault, Fault::Path { ohm, .. } if (least_ohm..most_ohm).contains(ohm))
            })
        })
    };
    let joints = |by: f64| {
        of(Class::Joint).filter(move |one| one.answer.joint_beyond.is_some_and(|is| is > by))
    };
    let failed = |one: &Outcome| one.answer.verdict == Verdict::Fail;
    vec![
        row("wrong maps", Bar::AtLeast(0.999), of(Class::WrongMap).map(right)),
        row("opens", Bar::All, of(Class::Open).map(right)),
        row("shorts, the pair", Bar::All, of(Class::Short).map(right)),
        row("joints beyond limit + U, failed", Bar::All, joints(1.0).map(failed)),
        row("joints beyond limit + 2 U, failed", Bar::Unset, joints(2.0).map(failed)),
        row("joints beyond limit + U, named", Bar::AtLeast(0.995), joints(1.0).map(right)),
        row("leaks 10 kΩ to 1 MΩ", Bar::AtLeast(0.999), leaks(1e4, 1e6).map(right)),
        row("no plug", Bar::Unset, of(Class::NoPlug).map(right)),
        row("device connected", Bar::Unset, of(Class::Device).map(right)),
    ]
}

fn stated<'a>(
    all: &'a [Outcome],
    of: impl Fn(&Outcome) -> bool + 'a,
    what: impl Fn(&Numbers) -> Option<Stated> + 'a,
) -> impl Iterator<Item = (&'a Outcome, Stated)> {
    all.iter().filter(move |one| of(one)).filter_map(move |one| Some((one, what(&one.numbers)?)))
}

/// How often a stated interval of 95 % holds the truth.
pub(crate) fn coverage(all: &[Outcome]) -> Vec<Row> {
    let within = Bar::Within(0.94, 0.97);
    let holds = |class: Option<Class>, what: fn(&Numbers) -> Option<Stated>| {
        let of = move |one: &Outcome| class.is_none_or(|class| one.drawn.class == class);
        stated(all, of, what).map(|(_, one)| one.holds)
    };
    let told = |class, what: fn(&Numbers) -> Option<Stated>| {
        all.iter().filter(is(class)).map(move |one| what(&one.numbers).is_some())
    };
    let at_least = all.iter().filter(is(Class::Leak));
    vec![
        row("resistance, all runs", within, holds(None, |one| one.resistance)),
        row("resistance, sound runs", Bar::Unset, holds(Some(Class::Sound), |one| one.resistance)),
        row("short place", within, holds(Some(Class::Short), |one| one.short_place)),
        row("  told, of all shorts", Bar::Unset, told(Class::Short, |one| one.short_place)),
        row(
            "  beside a joint",
            Bar::Unset,
            holds(Some(Class::ShortAndJoint), |one| one.short_place),
        ),
        row(
            "  under a wrong map",
            Bar::Unset,
            holds(Some(Class::ShortAndWrongMap), |one| one.short_place),
        ),
        row("open place", within, holds(Some(Class::Open), |one| one.open_place)),
        row("  told, of all opens", Bar::Unset, told(Class::Open, |one| one.open_place)),
        row("leakage", Bar::AtLeast(0.94), holds(Some(Class::Leak), |one| one.leak)),
        row(
            "leakage said to be at least so much",
            Bar::Unset,
            at_least.filter_map(|one| one.numbers.leak_at_least_holds),
        ),
    ]
}

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
    let metres = |even: Option<bool>| -> Vec<f64> {
        let of = move |one: &Outcome| {
            one.drawn.class == Class::Short
                && even.is_none_or(|is| one.drawn.is_of_even_length == is)
        };
        let places = stated(all, of, |one| one.short_place);
        places.map(|(one, place)| place.off * one.drawn.scene.run.length_m).collect()
    };
    let percent = |values: Vec<f64>| values.into_iter().map(|value| 100.0 * value).collect();
    vec![
        errors("resistance, Ω, all runs", None, off(None, |one| one.resistance)),
        errors("resistance, Ω, sound runs", None, off(Some(Class::Sound), |one| one.resistance)),
        errors("short place, m", Some(2.5), metres(None)),
        errors("  lengths drawn evenly", None, metres(Some(true))),
        errors("  lengths drawn by decades", None, metres(Some(false))),
        errors(
            "short place, % of the run",
            None,
            percent(off(Some(Class::Short), |one| one.short_place)),
        ),
        errors(
            "open place, % of the run",
            Some(2.5),
            percent(off(Some(Class::Open), |one| one.open_place)),
        ),
        errors("leakage, % of it", None, percent(off(Some(Class::Leak), |one| one.leak))),
    ]
}

/// Of answers that are wrong or not told, how many say so; and of all, how many are wrong and do not.
pub(crate) fn flags(all: &[Outcome]) -> Vec<Row> {
    let not_right = all
        .iter()
        .filter(|one| one.drawn.class != Class::StrongHum && one.answer.is_wrong_or_not_told());
    let untrue = all.iter().filter(|one| !one.answer.untrue.is_empty());
    vec![
        row(
            "wrong or not told: flagged",
            Bar::AtLeast(0.9995),
            not_right.map(|one| !one.answer.is_wrong_unflagged()),
        ),
        row(
            "something untrue is said: flagged",
            Bar::Unset,
            untrue.map(|one| one.answer.flagged.is_some()),
        ),
        row(
            "wrong and not flagged, of all runs",
            Bar::Unset,
            all.iter().map(|one| one.answer.is_wrong_unflagged()),
        ),
        row(
            "remark on a conductor without a joint",
            Bar::Unset,
            all.iter().map(|one| one.answer.spurious_remark),
        ),
    ]
}
