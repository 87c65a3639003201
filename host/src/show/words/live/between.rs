//! What two live readings, one at each end, say of the run between them.

use runproof_interpret::judgement::{LostBetween, Measured};

use super::notes::place;
use super::numbers::{signed_volts, volts};

/// A sentence on the supply, and one on the pair.
pub(crate) fn between(lost: &LostBetween) -> Vec<String> {
    let [from, to] = match lost.places {
        [Some(from), Some(to)] if from != to => [from, to].map(place),
        _ => ["at the one end", "at the other"],
    };
    let supply = lost.supply_lost_v.map(|volts_lost| {
        let [a, b] = lost.supply_v.map(volts);
        format!("supply {a} {from}, {b} {to}: {}.", told_of(volts_lost))
    });
    let pair = lost.bias_lost_v.map(|bias_lost| {
        let [a, b] = lost.bias_v.map(|bias| bias.map_or_else(String::new, signed_volts));
        let told = if lost.exchanged {
            "the two data conductors are exchanged between".to_owned()
        } else {
            told_of(bias_lost)
        };
        format!("data pair {a} {from}, {b} {to}: {told}.")
    });
    supply.into_iter().chain(pair).collect()
}

fn told_of(lost: Measured) -> String {
    if lost.value.abs() <= lost.u {
        return "the same within what the readings can tell".into();
    }
    if lost.value < 0.0 {
        return format!(
            "{} more than at the other, which no run adds: something changed between the readings, or \
             they are of two runs",
            volts(Some(Measured { value: -lost.value, ..lost }))
        );
    }
    format!("{} are lost between", volts(Some(lost)))
}
