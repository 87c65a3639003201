//! A lot in words.

use runproof_quality::lot::{
    Acceptance, Decision, Declared, Drawn, Identity, Mark, Measured, Ranges, Stand, Tested, Worth,
};
use runproof_quality::sampling::Severity;

use crate::shop::lots::{Closed, Lot, NotCounted};

pub(crate) const NONE: &str = "No lot was opened on this computer yet. `runproof lot open LOT --units COUNT --series TEXT --aql 1.0` declares \
    one, and draws the units to test.";
pub(crate) const SIMULATED: &str =
    "a simulated jig measured units of this lot: what follows is true of no real one.";
pub(crate) const REDUCED: &str =
    "these are MIL-STD-105E's numbers; ISO 2859-1 has others on reduced inspection.";

/// So many units are listed by number; more are counted.
const LISTED: usize = 200;

pub(crate) fn decision(decision: Decision) -> &'static str {
    match decision {
        Decision::Accept | Decision::AcceptBackToNormal => "ACCEPT",
        Decision::Reject => "REJECT",
        Decision::Hold => "HOLD",
        Decision::NotYet => "NOT YET",
    }
}

pub(crate) fn why(decision: Decision, stand: &Stand, units: u32) -> String {
    let failed = stand.sample.nonconforming.units().count();
    let plan = stand.drawn.plan;
    match decision {
        Decision::Accept if plan.is_none() && failed > 0 => {
            format!(
                "every unit was tested; {} failed and come out of it",
                listed(&stand.sample.nonconforming)
            )
        }
        Decision::Accept if plan.is_none() => "every unit was tested and passes".into(),
        Decision::Accept | Decision::Reject if failed == 0 && stand.measured.is_some() => {
            stand.measured.as_ref().map_or_else(String::new, quality)
        }
        Decision::Accept => {
            let most = plan.map_or(0, |plan| plan.acceptance_number());
            format!("{} of the sample failed, and up to {most} may", many(failed, "unit"))
        }
        Decision::AcceptBackToNormal => format!(
            "{} of the sample failed: this lot is accepted, the next one is inspected normally",
            many(failed, "unit")
        ),
        Decision::Reject => {
            let least = plan.map_or(0, |plan| plan.rejection_number());
            format!("{} of the sample failed, and {least} reject the lot", many(failed, "unit"))
        }
        Decision::Hold => format!(
            "{} not what the lot should be: look at every unit of it, as no sample says how many more there are",
            are(stand.identity.missed.len(), "unit")
        ),
        Decision::NotYet => left(stand, units),
    }
}

/// Of all that was measured.
fn quality(measured: &Measured) -> String {
    let [mean, deviation, index] =
        [measured.mean, measured.standard_deviation, measured.quality_index]
            .map(Option::unwrap_or_default);
    format!(
        "the sample has {} of its limit, standard deviation {}: {index:.3} standard deviations below it",
        percent(mean),
        percent(deviation)
    )
}

pub(crate) fn left(stand: &Stand, units: u32) -> String {
    let mut all = vec![];
    let looks = units - stand.identity.looked_at;
    if looks > 0 {
        all.push(format!("{} to look at", many(looks as usize, "unit")));
    }
    let tests: usize = [&stand.sample.left, &stand.sample.cannot_tell, &stand.sample.not_proved]
        .map(|units| units.units().count())
        .into_iter()
        .sum();
    if tests > 0 {
        all.push(format!("{} to test", many(tests, "unit")));
    }
    all.join(", ")
}

pub(crate) fn closed(closed: &Closed) -> String {
    let failed = closed.nonconforming.units().count();
    format!("decided, with {} of its sample failed; {}", many(failed, "unit"), closed.disposition)
}

pub(crate) fn units(declared: &Declared) -> String {
    let again = if declared.again { "; it was rejected before, and sorted" } else { "" };
    format!("{}, numbered from 1; of the series {}{again}", declared.units, declared.series)
}

pub(crate) fn identity(identity: &Identity, units: u32) -> String {
    let mut all = vec![format!("{} of {units} looked at", identity.looked_at)];
    for (unit, marks) in identity.missed.iter().take(LISTED) {
        let marks: Vec<&str> = marks.iter().map(|one| mark(*one)).collect();
        all.push(format!("unit {unit} misses its {}", marks.join(", ")));
    }
    if let Some(more) = identity.missed.len().checked_sub(LISTED).filter(|more| *more > 0) {
        all.push(format!("{more} more miss a mark"));
    }
    if !identity.mended.0.is_empty() {
        all.push(format!("missed before, and not by the last look: {}", listed(&identity.mended)));
    }
    if !identity.left.0.is_empty() {
        all.push(format!("not looked at: {}", listed(&identity.left)));
    }
    all.join("; ")
}

pub(crate) fn mark(mark: Mark) -> &'static str {
    match mark {
        Mark::Label => "label",
        Mark::Print => "print on the jacket",
        Mark::Weight => "weight",
        Mark::Scrape => "scraped conductor",
    }
}

pub(crate) fn plan(declared: &Declared, drawn: &Drawn) -> String {
    let numbers = drawn.plan.map(|plan| {
        let tested = drawn.sample.len();
        let all = if tested == declared.units as usize { ", all of them" } else { "" };
        let (accept, reject) = (plan.acceptance_number(), plan.rejection_number());
        let gap = if reject > accept + 1 { "; between the two accept this one, and inspect the next normally" } else { "" };
        format!("test {tested}{all}; accept with {accept} that fail or fewer, reject with {reject} or more{gap}")
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

pub(crate) fn judged_by(sheet: &str, version: &str, test: &str) -> String {
    format!("`runproof {test}`, limit sheet {sheet}, version {version}")
}

pub(crate) fn sample(sample: &[u32], seed: u64) -> String {
    let units = if sample.len() <= LISTED {
        sample.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
    } else {
        let first = sample[..LISTED].iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
        format!("{first} and {} more, which --json lists", sample.len() - LISTED)
    };
    format!("{units}; drawn at random with the seed {seed}")
}

pub(crate) fn tested(tested: &Tested, of: usize) -> String {
    let left = tested.left.units().count();
    let mut all = vec![format!("{} of {of}: {} passed", of - left, tested.conforming)];
    for (units, told) in [
        (&tested.nonconforming, "failed"),
        (&tested.cannot_tell, "could not be told, test again"),
        (&tested.not_proved, "by a jig that was not proved, test again"),
        (&tested.left, "left to test"),
    ] {
        if !units.0.is_empty() && units.units().count() < of {
            all.push(format!("{told}: {}", listed(units)));
        } else if !units.0.is_empty() {
            all.push(format!("all {told}"));
        }
    }
    all.join("; ")
}

pub(crate) fn beside(beside: &Tested) -> Option<String> {
    let failed = &beside.nonconforming;
    (!failed.0.is_empty()).then(|| {
        format!(
            "not drawn, but tested and failed: {}. They decide nothing here, and are no good units",
            listed(failed)
        )
    })
}

pub(crate) fn not_counted(not: NotCounted) -> Option<String> {
    let each = [
        (not.other_sheet, "judged by another limit sheet"),
        (not.other_test, "of another kind"),
        (not.no_unit, "of a unit that the lot has not"),
    ];
    let told: Vec<String> = each
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, why)| format!("{} {why}", many(count as usize, "test")))
        .collect();
    (!told.is_empty()).then(|| told.join("; "))
}

pub(crate) fn finds(worth: &Worth, units: u32, tested: usize) -> String {
    format!(
        "one bad unit among {units} is found by a sample of {tested} {} of the time. So every unit is looked at before any is tested: \
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
        _ => format!(
            "accepts one lot in ten of which {} fail (consumer's risk)",
            percent(worth.one_in_ten_accepted_at)
        ),
    };
    all.push(one_in_ten);
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

pub(crate) const CURVE: &str =
    "How likely a lot is accepted, by what part of it fails: the operating characteristic.";

pub(crate) fn otherwise_now(now: Decision) -> String {
    format!("by all that is known today it would be told {}", decision(now))
}

pub(crate) fn next(lot: &Lot) -> String {
    let name = &lot.name;
    if lot.closed.is_some() {
        return "nothing: it is closed".into();
    }
    let first = |units: &Ranges| units.units().next();
    let stand = &lot.stand;
    match stand.decision {
        Decision::Hold => format!(
            "keep the lot apart; sort out what it is with whoever sent it, then `runproof lot close \"{name}\" --disposition …`, or \
             look again: `runproof lot identity \"{name}\" UNITS`"
        ),
        Decision::NotYet => {
            if !stand.identity.left.0.is_empty() {
                return format!(
                    "look at every unit, then `runproof lot identity \"{name}\" 1-{}`; of one that misses something, \
                     `… UNIT --missed print`",
                    lot.opened.declared.units
                );
            }
            let tests = [&stand.sample.left, &stand.sample.cannot_tell, &stand.sample.not_proved];
            let unit = tests.into_iter().find_map(first).unwrap_or(1);
            format!(
                "`runproof {} --lot \"{name}\" --unit {unit}`, and so on",
                lot.opened.test.name()
            )
        }
        Decision::Accept | Decision::AcceptBackToNormal | Decision::Reject => {
            format!(
                "`runproof lot close \"{name}\" --disposition \"…\"`, with what is done with it"
            )
        }
    }
}

fn listed(units: &Ranges) -> String {
    let count = units.0.len();
    if count <= LISTED {
        return units.to_string();
    }
    let first = Ranges(units.0[..LISTED].to_vec());
    let all = units.units().count();
    format!("{first} and others, {all} in all")
}

/// Percent, to three digits.
fn percent(fraction: f64) -> String {
    let percent = fraction * 100.0;
    let digits = match percent {
        p if p >= 99.95 => 0,
        p if p >= 9.995 => 1,
        p if p >= 0.995 => 2,
        _ => 3,
    };
    format!("{percent:.digits$} %")
}

fn many(count: usize, what: &str) -> String {
    match count {
        0 => format!("no {what}"),
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}

fn are(count: usize, what: &str) -> String {
    format!("{} {}", many(count, what), if count == 1 { "is" } else { "are" })
}

#[test]
fn percents_have_three_digits() {
    let told = [1.0, 0.999_9, 0.5, 0.2, 0.049_99, 0.000_123].map(percent);
    assert_eq!(told, ["100 %", "100 %", "50.0 %", "20.0 %", "5.00 %", "0.012 %"]);
}
