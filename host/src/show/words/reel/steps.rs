//! What to do with a reel: before it is measured, and after.

use runproof_interpret::judgement::{FindingKind, ReelFindingKind, ReelJudgement, Verdict};

pub(in crate::show) const WAITS_FOR_DRIFT: &str =
    "leave it as it is, key in: it is read once more …";

/// Each with its place.
pub(in crate::show) fn reel_steps(buried: bool, simulated: bool) -> Vec<(String, String)> {
    let step = |label: &str, told: &str| (label.to_owned(), told.to_owned());
    let mut steps = vec![step(
        "first",
        "a reel that is on nothing else: no cable of it is installed anywhere.",
    )];
    if simulated {
        steps.push(step(
            "simulated",
            "with a real jig one person does this; there is nothing to do.",
        ));
    }
    let strip =
        "strip four cores and put the clips on them, 1 to 4; write down which colour is on which.";
    steps.push(step("1 outer end", strip));
    if buried {
        steps.push(step(
            "2 hands off",
            "see that the cores of the inner end do not touch each other; it is measured when it has stood unchanged for 3 s.",
        ));
        return steps;
    }
    steps.push(step(
        "2 inner end",
        "the tail's clips on the same colours, 1 to 4, the key out. Hands off: it is measured when it has stood unchanged for 3 s.",
    ));
    steps.push(step(
        "3 inner end",
        "put the key in, and leave all as it is: it is read now, and once more later.",
    ));
    steps
}

/// One thing.
pub(in crate::show) fn next_step(judgement: &ReelJudgement) -> &'static str {
    use ReelFindingKind as Kind;
    let run = judgement.run.findings.first().filter(|_| judgement.run.verdict != Verdict::Pass);
    match run.map(|first| first.kind) {
        Some(FindingKind::Hazard | FindingKind::AllMoveTogether | FindingKind::ForeignVoltage) => {
            return "take the clips off: a reel has no voltage. Find what it is joined to.";
        }
        Some(
            FindingKind::Open
            | FindingKind::Short
            | FindingKind::Leakage
            | FindingKind::SiblingDifference,
        ) => {
            return "clean and re-clip both ends, and measure again; if it stays, tag the reel and keep it off the truck: cut back \
                from the end that the place is nearer to, and test what is left.";
        }
        Some(FindingKind::Crossed | FindingKind::ReversedPair) => {
            return "clip the same colours to the same numbers at both ends, and measure again.";
        }
        _ => {}
    }
    let first = judgement.findings.first().map(|finding| finding.kind);
    match first {
        None if run.is_some() => {
            "see that both ends are clipped and the key goes in when it is asked for, and measure again."
        }
        None => "tag it as tested, with its length, and load it.",
        Some(Kind::CopperClad | Kind::LighterThanCopper) => {
            "scrape a core: aluminium is silver below the copper. Measure its diameter. Tag the reel, keep it off the truck, and \
             ask its supplier."
        }
        Some(Kind::ThinnerThanDeclared) => {
            "measure a core's diameter, and read the marks again; then tag the reel, and ask its supplier."
        }
        Some(Kind::LessThanDeclared) => {
            "read the marks at both ends again, and the gauge on the jacket; then measure again."
        }
        Some(Kind::MaterialDisagrees) => "read marks, scale and label again, and measure again.",
        Some(Kind::MaterialNotTold) => {
            "give a second quantity: --marks from both ends of the jacket, or --weight, --tare and --cable-weight."
        }
        Some(Kind::GaugeNotDeclared) => "say with --gauge what its label says, and measure again.",
        Some(Kind::TooCloseToGauge) => {
            "longer reels are told better: take a zero (`runproof zero`), say how warm it is more exactly, and measure again."
        }
        Some(Kind::TemperatureNotTold) => {
            "lay a thermometer between the turns, and say between what it surely lies, such as --temperature 18..22C."
        }
        Some(Kind::StillWarming) => {
            "let it lie where it is, overnight or for some hours, and measure again."
        }
        Some(Kind::NotReadTwice) => "measure again, the key in until it was read a second time.",
        Some(Kind::TooShort) => "measure so short a piece with a tape.",
        Some(Kind::Buried) => "free the inner end, and measure again without --buried.",
        Some(_) => {
            "compare the id and the marks with the reel's last record: `runproof reel --history ID`."
        }
    }
}
