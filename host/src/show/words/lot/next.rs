//! What is to be done with a lot next.

use runproof_quality::lot::{Decision, Stand, Tested};

use super::left;
use crate::shop::lots::Lot;

pub(crate) fn next(lot: &Lot) -> String {
    let name = quoted(&lot.name);
    let stand = &lot.stand;
    if lot.is_in_doubt() {
        return format!(
            "hold what was accepted of it, and call back what has left; open it again under another name with `--again`, and test it \
             anew: what is left is {}",
            left(stand, lot.opened.declared.units)
        );
    }
    if lot.closed.is_some() {
        return "nothing: it is closed".into();
    }
    match stand.decision {
        Decision::Hold => format!(
            "keep the lot apart; sort out what it is with whoever sent it, then `runproof lot close {name} --disposition …`, or \
             look again: `runproof lot identity {name} UNITS`"
        ),
        Decision::NotYet if !stand.identity.left.0.is_empty() => format!(
            "look at every unit, then `runproof lot identity {name} 1-{}`; of one that misses something, `… UNIT --missed print`",
            lot.opened.declared.units
        ),
        Decision::NotYet => {
            let tests = [&stand.sample.left, &stand.sample.cannot_tell, &stand.sample.not_proved];
            let unit = tests.into_iter().find_map(|units| units.units().next()).unwrap_or(1);
            let test = format!(
                "`runproof {} --lot {name} --unit {unit}`, and so on",
                lot.opened.test.name()
            );
            if stand.sample.not_proved.0.is_empty() {
                test
            } else {
                format!("prove the jig with `runproof prove`; then {test}")
            }
        }
        Decision::Accept | Decision::AcceptBackToNormal | Decision::Sorted | Decision::Reject => {
            format!("`runproof lot close {name} --disposition TEXT`, with what is done with it")
        }
    }
}

/// As a shell takes it for one word, whatever is in it.
fn quoted(name: &str) -> String {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || "-_./".contains(c);
    if name.chars().all(is_plain) {
        name.to_owned()
    } else {
        format!("'{}'", name.replace('\'', "'\\''"))
    }
}

/// What a test of this unit does not change.
pub(crate) fn of_unit(stand: &Stand, unit: u32) -> Option<String> {
    let has_failed = |tested: &Tested| tested.nonconforming.units().any(|one| one == unit);
    if has_failed(&stand.sample) || has_failed(&stand.beside) {
        return Some(format!(
            "unit {unit} counts as failed, whatever a later test says of it; unless the record of the test that failed is void \
             (`runproof records void`)."
        ));
    }
    let is_drawn = stand.drawn.sample.binary_search(&unit).is_ok();
    (!is_drawn).then(|| {
        format!("unit {unit} is not in the sample: what a test says of it decides nothing of the lot, unless it fails.")
    })
}

pub(crate) fn will_not_count(jig: &str) -> String {
    format!(
        "jig {jig} was not proved within a day, or is out: this test will not count for the lot. First `runproof prove`."
    )
}
