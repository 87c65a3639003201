//! How often a stated interval of 95 % holds the truth, and how often there is one.

use super::{Row, is, row, stated};
use crate::Outcome;
use crate::bars::Bar;
use crate::class::Class;
use crate::numbers::{Numbers, Stated};

pub(crate) fn coverage(all: &[Outcome]) -> Vec<Row> {
    let within = Bar::Within(0.94, 0.97);
    let holds = |of: fn(&Outcome) -> bool, what: fn(&Numbers) -> Option<Stated>| {
        stated(all, of, what).map(|(_, one)| one.holds)
    };
    let resistance: fn(&Numbers) -> Option<Stated> = |one| one.resistance;
    let short: fn(&Numbers) -> Option<Stated> = |one| one.short_place;
    let open: fn(&Numbers) -> Option<Stated> = |one| one.open_place;
    let told = |class, what: fn(&Numbers) -> Option<Stated>| {
        all.iter().filter(is(class)).map(move |one| what(&one.numbers).is_some())
    };
    let at_least = all.iter().filter(is(Class::Leak));
    vec![
        row("resistance, all runs", within, holds(|_| true, resistance)),
        row("  jig zeroed", Bar::Unset, holds(|one| one.drawn.zeroed_at_c.is_some(), resistance)),
        row("  never zeroed", Bar::Unset, holds(|one| one.drawn.zeroed_at_c.is_none(), resistance)),
        row("  sound runs", Bar::Unset, holds(|one| one.drawn.class == Class::Sound, resistance)),
        row("short place, all runs", within, holds(|_| true, short)),
        row(
            "  nothing else wrong",
            Bar::Unset,
            holds(|one| one.drawn.class == Class::Short, short),
        ),
        row(
            "  beside a joint",
            Bar::Unset,
            holds(|one| one.drawn.class == Class::ShortAndJoint, short),
        ),
        row(
            "  under a wrong map",
            Bar::Unset,
            holds(|one| one.drawn.class == Class::ShortAndWrongMap, short),
        ),
        row("  told, where nothing else is wrong", Bar::Unset, told(Class::Short, short)),
        row("open place, all runs", within, holds(|_| true, open)),
        row("  told, where nothing else is wrong", Bar::Unset, told(Class::Open, open)),
        row(
            "leakage",
            Bar::AtLeast(0.94),
            holds(|one| one.drawn.class == Class::Leak, |one| one.leak),
        ),
        row(
            "leakage said to be at least so much",
            Bar::Unset,
            at_least.filter_map(|one| one.numbers.leak_at_least_holds),
        ),
    ]
}
