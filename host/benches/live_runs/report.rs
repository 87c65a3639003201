//! The table that `live-monte-carlo.md` holds.

use crate::answer::{Answer, Told};
use crate::draw::{Drawn, Zeroed};
use crate::statistics::{Share, quantiles};

type Held = [(Drawn, Answer)];

pub(crate) fn print(seed: u64, held: &Held) {
    println!("{} powered runs, seed {seed}.\n", held.len());
    println!("| what | is so | of |\n|---|---:|---:|");
    let count = |name: &str, is: fn(&Answer) -> bool| {
        let share = Share::of_all(held.iter().map(|(_, answer)| is(answer)));
        println!("| {name} | {} | {} |", share.are, share.of);
    };
    count("the pair's sign told wrong", |answer| answer.sign_wrong);
    count(
        "not told, and beyond the threshold by more than 15 mV and 2 U, 20 mV more without a fresh zero; nor said that a line stands within U of where an open one does",
        |answer| answer.sign_missed,
    );
    count("said that a line stands where an open one does", |answer| answer.is_held_or_open);
    count("the same, and it is farther from there than U", |answer| answer.held_or_open_wrong);
    count("more than 30 V rms or 42 V steady, and no hazard told", |answer| answer.hazard_missed);
    count("a hazard told, and a tenth less than that, at any instant too", |answer| {
        answer.hazard_false
    });
    count("another kind of supply told", |answer| answer.kind_wrong);
    count("told idle", |answer| answer.is_idle_told);
    println!(
        "\n| number | zero | n | error: median | p95 | most | stated: p95 | most | holds the truth |"
    );
    println!("|---|---|---:|---:|---:|---:|---:|---:|---:|");
    for zeroed in [Zeroed::Fresh, Zeroed::Stale, Zeroed::Not] {
        numbers(held, zeroed, "bias, mV", |answer| answer.bias, |_| 1e-3);
        numbers(held, zeroed, "supply rms, %", |answer| answer.supply, |truth| truth / 100.0);
        numbers(held, zeroed, "supply's mean, mV", |answer| answer.mean, |_| 1e-3);
        numbers(held, zeroed, "frequency, Hz", |answer| answer.hertz, |_| 1.0);
        numbers(held, zeroed, "before the jig, Ω", |answer| answer.source_ohm, |_| 1.0);
    }
    println!();
    for (drawn, answer) in held {
        let wrong = [
            (answer.sign_wrong, "sign wrong"),
            (answer.sign_missed, "sign missed"),
            (answer.hazard_missed, "hazard missed"),
            (answer.hazard_false, "false hazard"),
            (answer.kind_wrong, "kind"),
        ];
        for (_, what) in wrong.into_iter().filter(|(is, _)| *is) {
            println!(
                "{}: {what} ({:?}, busy {}, hum {})",
                drawn.index, drawn.supply, drawn.is_busy, drawn.hums
            );
        }
    }
}

fn numbers(
    held: &Held,
    zeroed: Zeroed,
    name: &str,
    of: fn(&Answer) -> Option<Told>,
    unit: fn(f64) -> f64,
) {
    let told: Vec<Told> = held
        .iter()
        .filter(|(drawn, _)| drawn.zeroed == zeroed)
        .filter_map(|(_, answer)| of(answer))
        .collect();
    let errors = told.iter().map(|one| one.error() / unit(one.truth)).collect();
    let stated = told.iter().map(|one| one.told.u / unit(one.truth)).collect();
    let holds = Share::of_all(told.iter().map(|one| one.holds()));
    let (Some([median, p95, most]), Some([_, u_p95, u_most])) =
        (quantiles(errors), quantiles(stated))
    else {
        return;
    };
    println!(
        "| {name} | {zeroed:?} | {} | {median:.4} | {p95:.4} | {most:.4} | {u_p95:.4} | {u_most:.4} | {:.1} % ({:.1} to {:.1}) |",
        told.len(),
        100.0 * holds.fraction(),
        100.0 * holds.interval()[0],
        100.0 * holds.interval()[1]
    );
}
