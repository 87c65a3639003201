//! What could not be told, and why.

use std::collections::BTreeMap;

use crate::Outcome;
use crate::answer::Naming;

/// Why it is not told, by class, with some of the runs.
pub(super) fn print(all: &[Outcome]) {
    let mut reasons: BTreeMap<(&str, &str), Vec<u64>> = BTreeMap::new();
    for one in all.iter().filter(|one| one.answer.naming == Naming::NotTold) {
        let reason = one.answer.flagged.as_deref().unwrap_or_default();
        reasons.entry((one.drawn.class.name(), reason)).or_default().push(one.drawn.index);
    }
    println!("\nNot told, and why (some of the runs)");
    for ((class, reason), runs) in reasons {
        let some = &runs[..runs.len().min(4)];
        println!("{class:<18}{:>7}  {reason} {some:?}", runs.len());
    }
}
