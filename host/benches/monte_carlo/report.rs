//! All that was counted, as plain text.

use std::collections::BTreeMap;

use runproof_interpret::LimitSheet;
use runproof_interpret::judgement::Verdict;

use crate::Outcome;
use crate::answer::Naming;
use crate::class::Class;
use crate::draw::Drawn;
use crate::tally::{self, Errors, Row};

pub(crate) fn print(seed: u64, all: &[Outcome], broken: &[Box<Drawn>], sheet: &LimitSheet) {
    println!("{} runs, seed {seed}, limits {} {}", all.len(), sheet.name, sheet.version);
    confusion(all);
    hum(all, sheet);
    rows("False verdicts", &tally::false_verdicts(all, sheet));
    rows("Named right", &tally::named_right(all));
    rows("Intervals of 95 % that hold the truth", &tally::coverage(all));
    errors(&tally::errors(all));
    rows("Flagged", &tally::flags(all));
    not_told(all);
    list("False passes", all, |one| one.answer.false_pass);
    list("False fails", all, |one| one.answer.false_fail);
    list("Wrong otherwise, and not flagged", all, |one| {
        let false_verdict = one.answer.false_pass || one.answer.false_fail;
        one.answer.is_wrong_unflagged() && !false_verdict
    });
    println!("\nRuns that the program did not survive: {}", broken.len());
    for drawn in broken {
        println!("  {drawn}");
    }
}

fn confusion(all: &[Outcome]) {
    println!("\nWhat was put on the run, and what was said of it");
    println!(
        "{:<18}{:>7} |{:>7}{:>13}{:>7} |{:>12}{:>9}{:>10}{:>15}{:>13}",
        "",
        "runs",
        "pass",
        "cannot tell",
        "fail",
        "named right",
        "in part",
        "not told",
        "not mentioned",
        "named other"
    );
    for (class, _) in Class::SHARES {
        line(class.name(), &|one| one.drawn.class == class, all);
    }
    line("all", &|_| true, all);
}

fn line(name: &str, of: &dyn Fn(&Outcome) -> bool, all: &[Outcome]) {
    let count = |is: &dyn Fn(&Outcome) -> bool| all.iter().filter(|one| of(one) && is(one)).count();
    let [pass, cannot_tell, fail] = [Verdict::Pass, Verdict::CannotTell, Verdict::Fail]
        .map(|verdict| count(&|one| one.answer.verdict == verdict));
    let [right, in_part, not_told, not_mentioned, other] =
        [Naming::Right, Naming::InPart, Naming::NotTold, Naming::NotMentioned, Naming::Other]
            .map(|naming| count(&|one| one.answer.naming == naming));
    println!(
        "{name:<18}{:>7} |{pass:>7}{cannot_tell:>13}{fail:>7} \
         |{right:>12}{in_part:>9}{not_told:>10}{not_mentioned:>15}{other:>13}",
        count(&|_| true),
    );
}

/// What couples in, in microamperes rms.
const HUM_MICROAMPERES: [[f64; 2]; 5] =
    [[0.05, 0.2], [0.2, 0.8], [0.8, 2.0], [2.0, 5.0], [5.0, 16.0]];

fn hum(all: &[Outcome], sheet: &LimitSheet) {
    println!("\nRuns that nothing is wrong with, by the hum on them");
    println!("{:<18}{:>7}{:>7}{:>13}{:>7}", "", "runs", "pass", "cannot tell", "fail");
    let line = |name: &str, of: &dyn Fn(Option<f64>) -> bool| {
        let of: Vec<&Outcome> = all
            .iter()
            .filter(|one| !one.truth.must_not_pass(sheet) && of(one.drawn.hum_microamperes()))
            .collect();
        let [pass, cannot_tell, fail] = [Verdict::Pass, Verdict::CannotTell, Verdict::Fail]
            .map(|verdict| of.iter().filter(|one| one.answer.verdict == verdict).count());
        println!("{name:<18}{:>7}{pass:>7}{cannot_tell:>13}{fail:>7}", of.len());
    };
    line("none", &|hum| hum.is_none());
    for [least, most] in HUM_MICROAMPERES {
        let within = |hum: Option<f64>| hum.is_some_and(|is| (least..most).contains(&is));
        line(&format!("{least} to {most} µA"), &within);
    }
}

fn rows(title: &str, rows: &[Row]) {
    println!("\n{title}");
    for Row { what, share, bar } in rows {
        if share.of == 0 {
            println!("{what:<42}{:>15}", "0 of 0");
            continue;
        }
        let counted = format!("{} of {}", share.are, share.of);
        let [least, most] = share.interval().map(|fraction| 100.0 * fraction);
        let met = match bar.met(*share) {
            None => "",
            Some(true) => "met",
            Some(false) => "NOT MET",
        };
        let percent = 100.0 * share.fraction();
        println!(
            "{what:<42}{counted:>15}{percent:>10.3} %  ({least:>7.3} to {most:>7.3} %)  {bar:<13}{met}"
        );
    }
}

fn errors(all: &[Errors]) {
    println!("\nErrors{:<30}{:>9}{:>10}{:>10}{:>10}", "", "n", "median", "95 %", "largest");
    for Errors { what, n, quantiles, most } in all {
        let Some([median, p95, largest]) = quantiles else {
            println!("{what:<36}{n:>9}");
            continue;
        };
        let bar = most.map(|most| {
            format!("  95 % ≤ {most}: {}", if *p95 <= most { "met" } else { "NOT MET" })
        });
        println!(
            "{what:<36}{n:>9}{median:>10.3}{p95:>10.3}{largest:>10.3}{}",
            bar.unwrap_or_default()
        );
    }
}

/// Why it is not told, by class, with some of the runs.
fn not_told(all: &[Outcome]) {
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

fn list(title: &str, all: &[Outcome], of: impl Fn(&Outcome) -> bool) {
    let all: Vec<&Outcome> = all.iter().filter(|one| of(one)).collect();
    println!("\n{title}: {}", all.len());
    for Outcome { drawn, answer, .. } in all {
        println!("  {drawn}\n      {}", answer.said);
        if !answer.untrue.is_empty() {
            println!("      untrue: {}", answer.untrue.join("; "));
        }
    }
}
