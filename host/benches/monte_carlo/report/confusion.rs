//! What was put on the runs, against what was said of them.

use runproof_interpret::LimitSheet;
use runproof_interpret::judgement::Verdict;

use crate::Outcome;
use crate::answer::Naming;
use crate::class::Class;

pub(super) fn print(all: &[Outcome]) {
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

pub(super) fn print_by_hum(all: &[Outcome], sheet: &LimitSheet) {
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
