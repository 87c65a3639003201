//! The test of a reel of cable: its own way from two readings, some time apart, and what was declared to a judgement.
//!
//! Resistance is length times resistance per length, and one number does not tell two: length needs a declared gauge,
//! gauge and metal need a length that is known by something else.

mod clad;
mod cores;
mod drift;
mod findings;
mod gauge_check;
mod halves;
mod interval;
mod known_length;
mod length;
mod limit_text;
mod material;
mod mean;
mod run;
mod warming;
mod weight;
mod wire;

use halves::Halves;
pub(crate) use limit_text::limit_text;
use mean::Mean;

use crate::capture::Capture;
pub use crate::declared::{Declared, Marks, NoReel, Reeled};
use crate::judgement::{COVERAGE_FACTOR, ReelJudgement, Verdict};
use crate::limits::LimitSheet;
use crate::settled;

/// What `capture` proves of a reel, by what was declared in it and the limits of `sheet`.
#[must_use]
pub fn judge_reel(capture: &Capture, sheet: &LimitSheet) -> ReelJudgement {
    let declared = capture.reel().cloned().unwrap_or_default();
    let halves = Halves::of(capture);
    let run = run::judged(&halves.first, sheet, declared.buried);
    let readings = Mean::of_both(&halves, sheet);
    let warming = readings.and_then(|both| warming::warming(&halves, both.first.ohm));
    let steady = warming.is_some_and(|warming| !warming.still_warming);
    let mean = readings.map(|both| both.mean());
    let at_20_c = mean.zip(declared.copper_c).map(|(mean, warmth)| mean.at_20_c(warmth));
    let told = at_20_c.filter(|_| steady);
    let wire = wire::wire(&declared);
    let by_capacitance = known_length::by_capacitance(&run, &declared);
    let marked = known_length::marked(&declared);
    let known = marked.or(by_capacitance);
    let per_length = told.zip(known).map(|(at_20_c, known)| known.per_length(at_20_c));
    let lengths_disagree =
        marked.zip(by_capacitance).is_some_and(|(one, other)| one.excludes(&other));
    let material = material::material(&declared, lengths_disagree, wire.as_ref(), told, per_length);
    let gauge = gauge_check::check(&declared, wire.as_ref(), per_length, &material, told);
    let disproved = material.contradicts_copper() || gauge.verdict == Verdict::Fail;
    let length = length::length(wire.as_ref(), told, &material);
    let by_capacitance_m = by_capacitance
        .map(|known| known.interval())
        .or(run.looks_long.filter(|_| declared.buried).map(known_length::by_sheet));
    let seen = findings::Seen {
        declared: &declared,
        run: &run,
        warming,
        read_twice: readings.is_some_and(|both| both.second.is_some())
            && !warming::is_too_soon(&halves),
        mean,
        told,
        per_length,
        gauge: &gauge,
        material: &material,
        length,
        wire: wire.as_ref(),
    };
    let findings = findings::of(&seen);
    let conductors = cores::cores(&seen, readings, known);
    let verdict = conductors
        .iter()
        .map(|core| core.verdict)
        .chain(findings.iter().map(|finding| settled::verdict_of(finding.severity)))
        .chain([run.verdict])
        .fold(Verdict::Pass, Verdict::and);
    ReelJudgement {
        verdict,
        conductors,
        findings,
        wire,
        resistance: mean.map(|mean| mean.stated(at_20_c)),
        warming,
        length_m: length.filter(|_| !disproved),
        marked_m: marked.map(|known| known.interval()),
        by_capacitance_m,
        per_length: per_length.map(|one| one.stated()),
        gauge,
        material,
        coverage_factor: COVERAGE_FACTOR,
        run,
        declared,
    }
}
