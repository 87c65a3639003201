//! What is named for what it is.

use runproof_interpret::judgement::Verdict;

use super::{Row, is, row};
use crate::Outcome;
use crate::answer::Naming;
use crate::bars::Bar;
use crate::class::Class;
use crate::truth::Fault;

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
    let quiet = |one: &&Outcome| one.drawn.scene.source.is_empty();
    let failed = |one: &Outcome| one.answer.verdict == Verdict::Fail;
    vec![
        row("wrong maps", Bar::AtLeast(0.999), of(Class::WrongMap).map(right)),
        row("opens", Bar::All, of(Class::Open).map(right)),
        row("shorts, the pair", Bar::All, of(Class::Short).map(right)),
        row("  without hum", Bar::Unset, of(Class::Short).filter(quiet).map(right)),
        row("joints beyond limit + U, failed", Bar::All, joints(1.0).map(failed)),
        row("joints beyond limit + 2 U, failed", Bar::Unset, joints(2.0).map(failed)),
        row("joints beyond limit + U, named", Bar::AtLeast(0.995), joints(1.0).map(right)),
        row("leaks 10 kΩ to 1 MΩ", Bar::AtLeast(0.999), leaks(1e4, 1e6).map(right)),
        row("no plug", Bar::Unset, of(Class::NoPlug).map(right)),
        row("device connected", Bar::Unset, of(Class::Device).map(right)),
        row("  without hum", Bar::Unset, of(Class::Device).filter(quiet).map(right)),
    ]
}
