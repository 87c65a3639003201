//! All that was counted, as plain text.

mod confusion;
mod not_told;

use runproof_interpret::LimitSheet;

use crate::Outcome;
use crate::class::Class;
use crate::draw::Drawn;
use crate::tally::{self, Errors, Row};

pub(crate) fn print(seed: u64, all: &[Outcome], broken: &[Box<Drawn>], sheet: &LimitSheet) {
    println!("{} runs, seed {seed}, limits {} {}", all.len(), sheet.name, sheet.version);
    confusion::print(all);
    confusion::print_by_hum(all, sheet);
    rows("False verdicts", &tally::false_verdicts(all, sheet));
    rows("Named right", &tally::named_right(all));
    rows("Intervals of 95 % that hold the truth", &tally::coverage(all));
    errors(&tally::errors(all));
    rows("Flagged", &tally::flags(all));
    judging(all);
    not_told::print(all);
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

/// Half of the captures and 99 of 100 were judged within so long; alone on the machine, one thread says more than
/// several.
fn judging(all: &[Outcome]) {
    println!("\nJudging a capture, ms");
    for (what, class) in [("all runs", None), ("nothing wrong", Some(Class::Sound))] {
        let of = all.iter().filter(|one| class.is_none_or(|class| one.drawn.class == class));
        let mut ms: Vec<f64> = of.map(|one| 1e3 * one.judged_in.as_secs_f64()).collect();
        ms.sort_by(f64::total_cmp);
        if let Some(last) = ms.len().checked_sub(1) {
            let [median, p99] = [0.5, 0.99].map(|part| ms[(part * last as f64).round() as usize]);
            println!("  {what:<34}{:>9}  median {median:.2}, 99 % within {p99:.2}", ms.len());
        }
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
