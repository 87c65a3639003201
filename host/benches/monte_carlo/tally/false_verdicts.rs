//! Passes and fails that must not be.

use runproof_interpret::LimitSheet;

use super::{Row, is, row};
use crate::Outcome;
use crate::bars::Bar;
use crate::class::Class;

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
