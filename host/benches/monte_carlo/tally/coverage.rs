//! How often a stated interval of 95 % holds the truth, and how often there is one.

use super::{Row, is, row, stated};
use crate::Outcome;
use crate::bars::Bar;
use crate::class::Class;
use crate::numbers::{Numbers, Stated};

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
