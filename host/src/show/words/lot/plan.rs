//! How a lot is decided, and what that is worth.

use runproof_interpret::limits::BUILT_IN;
use runproof_quality::lot::{Acceptance, Declared, Drawn, Worth};
use runproof_quality::sampling::Severity;
use runproof_records::Sheet;

use super::{LISTED, percent};

pub(crate) const REDUCED: &str =
    "these are MIL-STD-105E's numbers; ISO 2859-1 has others on reduced inspection.";
pub(crate) const CURVE: &str =
    "How likely a lot is accepted, by what part of it fails: the operating characteristic.";

pub(crate) fn plan(declared: &Declared, drawn: &Drawn) -> String {
    let numbers = drawn.plan.map(|plan| {
        let tested = drawn.sample.len();
        let all = if tested == declared.units as usize { ", all of them" } else { "" };
        let (most, reject) = (plan.acceptance_number(), plan.rejection_number());
        let gap = if reject > most + 1 {
            "; between the two accept this one, and inspect the next normally"
        } else {
            ""
        };
        let accept = match most {
            0 => "accept if none fails".into(),
            _ => format!("accept with {most} that fail or fewer"),
        };
        format!("test {tested}{all}; {accept}, reject with {reject} or more{gap}")
    });
    let numbers = numbers.unwrap_or_default();
    match declared.acceptance {
        Acceptance::Attributes { level, aql, severity } => {
            let letters = drawn.inspection.map_or_else(String::new, |found| {
                let (lot, used) = (found.letter_of_lot.letter(), found.letter_used.letter());
                if lot == used {
                    format!("code letter {used}")
                } else {
                    format!("code letter {lot}, where the table points to {used}")
                }
            });
            format!(
                "MIL-STD-105E, single sampling, level {level}, AQL {} %, {} inspection, {letters}: {numbers}",
                aql.percent(),
                self::severity(severity)
            )
        }
        Acceptance::ZeroAcceptance { limit, risk } => format!(
            "zero acceptance: a lot of which {} fail is accepted with {} at most (hypergeometric, exact): {numbers}",
            percent(limit.value()),
            percent(risk.value())
        ),
        Acceptance::Variables(_) => {
            let k = drawn.variables.map_or(f64::NAN, |plan| plan.acceptability_constant);
            format!(
                "by variables (k-method, sigma unknown, noncentral t): test {}; accept where the mean of what they have of their limit, the most \
                 of their conductors, is at least {k:.3} standard deviations below it, and none has another fault",
                drawn.sample.len()
            )
        }
        Acceptance::EveryUnit => "every unit is tested; those that fail are taken out".into(),
    }
}

pub(crate) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Normal => "normal",
        Severity::Tightened => "tightened",
        Severity::Reduced => "reduced",
    }
}

pub(crate) fn judged_by(sheet: &Sheet, test: &str) -> String {
    let built_in = BUILT_IN.iter().find(|(name, _)| *name == sheet.name);
    let other = built_in.is_some_and(|(_, text)| *text != sheet.text);
    let changed = if other {
        ", CHANGED: not the sheet of that name that comes with the program"
    } else {
        ""
    };
    format!("`runproof {test}`, limit sheet {}, version {}{changed}", sheet.name, sheet.version)
}

pub(crate) fn sample(sample: &[u32], seed: u64, seed_told: bool) -> String {
    let units = if sample.len() <= LISTED {
        sample.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
    } else {
        let first = sample[..LISTED].iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
        format!("{first} and {} more, which --json lists", sample.len() - LISTED)
    };
    let by = if seed_told { "which was given by hand" } else { "which was drawn as well" };
    format!("{units}; drawn with the seed {seed}, {by}")
}

pub(crate) fn finds(worth: &Worth, units: u32, tested: usize) -> String {
    format!(
        "one bad unit among {units} is found by {} of all samples of {tested}. So every unit is looked at as well: \
         label, print, weight, a conductor scraped bare",
        percent(worth.finds_one)
    )
}

pub(crate) fn risks(worth: &Worth, declared: &Declared) -> String {
    let mut all = vec![];
    if let (Some(risk), Acceptance::Attributes { aql, .. }) =
        (worth.producers_risk, declared.acceptance)
    {
        all.push(format!(
            "rejects {} of lots of which {} % fail (producer's risk)",
            percent(risk),
            aql.percent()
        ));
    }
    let one_in_ten = match declared.acceptance {
        Acceptance::Variables(risks) => format!(
            "rejects {} of lots of which {} are beyond their limit; accepts {} of those of which {} are",
            percent(worth.producers_risk.unwrap_or_default()),
            percent(risks.good.value()),
            percent(risks.consumers.value()),
            percent(risks.bad.value())
        ),
        // The plan says it, of this very lot.
        Acceptance::ZeroAcceptance { .. } => String::new(),
        _ => format!(
            "accepts one lot in ten of which {} fail (consumer's risk)",
            percent(worth.one_in_ten_accepted_at)
        ),
    };
    all.extend(Some(one_in_ten).filter(|told| !told.is_empty()));
    if let Some(bad) = worth.bad_units_accepted_one_in_ten {
        all.push(format!(
            "this very lot with {bad} bad units or more is accepted once in ten or less"
        ));
    }
    if let Some(limit) = worth.outgoing_limit {
        let limit = percent(limit.fraction);
        all.push(format!(
            "if rejected lots are sorted, at most {limit} of what leaves is bad on average (AOQL)"
        ));
    }
    all.join("; ")
}

pub(crate) fn severity_due(due: Option<Severity>, used: Severity) -> Option<String> {
    match due {
        Some(due) if due == used => None,
        Some(due) => {
            Some(format!("{} inspection was due, {} was asked for", severity(due), severity(used)))
        }
        None => Some("inspection of its series had ended, and is taken up again".into()),
    }
}
