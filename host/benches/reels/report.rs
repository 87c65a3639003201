//! The tables that `reel-monte-carlo.md` holds.

use runproof_interpret::judgement::{Metal, Verdict};

use crate::answer::Answer;
use crate::draw::Kind;
use crate::statistics::{Share, quantiles};

/// Shorter and longer reels.
const BINS_M: [(f64, f64); 4] = [(5.0, 30.0), (30.0, 75.0), (75.0, 150.0), (150.0, 300.0)];

pub(crate) fn print(seed: u64, held: &[Option<Answer>]) {
    let broken = held.iter().filter(|one| one.is_none()).count();
    let all: Vec<&Answer> = held.iter().flatten().collect();
    println!("{} reels, seed {seed}; the program survived all but {broken} of them.\n", held.len());
    verdicts(&all);
    gauges(&all);
    metals(&all);
    lengths(&all);
    resistance(&all);
    warming(&all);
}

fn verdicts(all: &[&Answer]) {
    println!("Verdicts\n");
    println!(
        "| what the reel is | marks | reels | pass | cannot tell | fail |\n|---|---|---:|---:|---:|---:|"
    );
    for kind in [Kind::Copper, Kind::Bar, Kind::CopperClad, Kind::Thinner, Kind::Warming] {
        for marked in [true, false] {
            let of = |one: &&&Answer| one.drawn.kind == kind && one.is_marked() == marked;
            let some: Vec<_> = all.iter().filter(of).collect();
            let count = |verdict| some.iter().filter(|one| one.verdict == verdict).count();
            println!(
                "| {kind:?} | {} | {} | {} | {} | {} |",
                if marked { "yes" } else { "no" },
                some.len(),
                count(Verdict::Pass),
                count(Verdict::CannotTell),
                count(Verdict::Fail)
            );
        }
    }
}

/// Of copper with marks: is the size that fits alone the true one?
fn gauges(all: &[&Answer]) {
    println!("\nThe size of copper, by resistance and marks\n");
    println!(
        "| length, m | reels | named right | several fit | none fits | named wrong | declared size: pass | cannot tell | fail |"
    );
    println!("|---|---:|---:|---:|---:|---:|---:|---:|---:|");
    for (from, to) in BINS_M {
        let some = within(all, from, to, |one| {
            matches!(one.drawn.kind, Kind::Copper | Kind::Bar)
                && one.is_marked()
                && one.warming == Some(false)
        });
        let named = |is: fn(&Answer) -> bool| some.iter().filter(|one| is(one)).count();
        let verdict = |verdict| some.iter().filter(|one| one.gauge_verdict == verdict).count();
        println!(
            "| {from} to {to} | {} | {} | {} | {} | {} | {} | {} | {} |",
            some.len(),
            named(|one| one.fits == [one.drawn.gauge.size]),
            named(|one| one.fits.len() > 1),
            named(|one| one.fits.is_empty()),
            named(|one| one.fits.len() == 1 && one.fits[0] != one.drawn.gauge.size),
            verdict(Verdict::Pass),
            verdict(Verdict::CannotTell),
            verdict(Verdict::Fail)
        );
    }
}

fn metals(all: &[&Answer]) {
    println!("\nThe metal, by resistance and marks\n");
    println!(
        "| it is | length, m | reels | told right | not told | told wrong | of those told right, % (95 %) |"
    );
    println!("|---|---|---:|---:|---:|---:|---:|");
    for (name, metal) in [("copper", Metal::Copper), ("copper-clad", Metal::CopperCladAluminium)] {
        for (from, to) in BINS_M {
            let some = within(all, from, to, |one| {
                let clad = one.drawn.kind == Kind::CopperClad;
                let copper = matches!(one.drawn.kind, Kind::Copper | Kind::Bar);
                let is = if metal == Metal::Copper { copper } else { clad };
                is && one.is_marked() && one.warming == Some(false)
            });
            let right =
                Share::of_all(some.iter().filter_map(|one| one.metal).map(|told| told == metal));
            let [least, most] = right.interval();
            println!(
                "| {name} | {from} to {to} | {} | {} | {} | {} | {:.2} to {:.2} |",
                some.len(),
                right.are,
                some.len() as u64 - right.of,
                right.of - right.are,
                100.0 * least,
                100.0 * most
            );
        }
    }
}

fn lengths(all: &[&Answer]) {
    println!("\nThe length of copper, by resistance\n");
    println!(
        "| wire tolerance | length, m | told | not told | half of the interval, %: median | p95 | holds the truth, % (95 %) |"
    );
    println!("|---|---|---:|---:|---:|---:|---:|");
    let bins = BINS_M.into_iter().chain([(5.0, 300.0)]);
    for told in [false, true] {
        for (from, to) in bins.clone() {
            row(all, &format!("{from} to {to}"), told, |one| {
                one.drawn.kind == Kind::Copper && (from..to).contains(&one.true_m())
            });
        }
        row(all, "18 AWG, 150", told, |one| one.drawn.kind == Kind::Bar);
    }
}

fn row(all: &[&Answer], name: &str, told: bool, is: impl Fn(&Answer) -> bool) {
    let tolerance = |one: &Answer| one.drawn.declared.wire_tolerance_percent.is_some();
    let some: Vec<_> = all
        .iter()
        .filter(|one| is(one) && tolerance(one) == told && one.warming == Some(false))
        .collect();
    let holds = Share::of_all(some.iter().filter_map(|one| one.holds()));
    let half = quantiles(some.iter().filter_map(|one| one.half_width_percent()).collect());
    let Some([median, p95, _]) = half else { return };
    let [least, most] = holds.interval();
    println!(
        "| {} | {name} | {} | {} | {median:.2} | {p95:.2} | {:.1} ({:.1} to {:.1}) |",
        if told { "1 %, told" } else { "the standard's" },
        holds.of,
        some.len() as u64 - holds.of,
        100.0 * holds.fraction(),
        100.0 * least,
        100.0 * most
    );
}

/// Standard uncertainties that the mean of the cores is off by: 1 is what was stated.
fn resistance(all: &[&Answer]) {
    for zeroed in [true, false] {
        let off: Vec<f64> = all
            .iter()
            .filter(|one| {
                one.drawn.zeroed_at_c.is_some() == zeroed && one.drawn.kind != Kind::Warming
            })
            .filter_map(|one| one.off)
            .collect();
        let count = off.len() as f64;
        let rms = (off.iter().map(|one| one * one).sum::<f64>() / count).sqrt();
        let mean = off.iter().sum::<f64>() / count;
        let zeroed = if zeroed { "with" } else { "without" };
        println!(
            "\nThe mean resistance, {zeroed} a zero: {count} reels; off by {rms:.3} of its standard uncertainty, root mean \
             square, and by {mean:+.3} in the mean."
        );
    }
}

fn warming(all: &[&Answer]) {
    println!("\nDrift, two minutes apart\n");
    println!("| it warms by, K a minute | resistance, Ω | reels | found |\n|---|---|---:|---:|");
    for (from, to) in [(0.0, 0.01), (0.01, 0.2), (0.2, 0.5), (0.5, 2.1)] {
        for (least, most) in [(0.0, 1.0), (1.0, 5.0), (5.0, 50.0)] {
            let ohm = |one: &Answer| {
                let run = &one.drawn.scene.run;
                run.ohm_per_km * run.length_m / 1e3
            };
            let some = all.iter().filter(|one| {
                (from..to).contains(&one.drawn.scene.run.warms_k_per_min)
                    && (least..most).contains(&ohm(one))
            });
            let found = Share::of_all(some.filter_map(|one| one.warming));
            let rate = if from > 0.0 { format!("{from} to {to}") } else { "0".into() };
            println!("| {rate} | {least} to {most} | {} | {} |", found.of, found.are);
        }
    }
}

fn within<'a>(
    all: &[&'a Answer],
    from: f64,
    to: f64,
    is: impl Fn(&Answer) -> bool,
) -> Vec<&'a Answer> {
    let inside = |one: &&&Answer| (from..to).contains(&one.true_m()) && is(one);
    all.iter().filter(inside).copied().collect()
}
