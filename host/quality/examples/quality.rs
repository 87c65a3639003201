//! Answers questions on standard input, a line of JSON each, with a line of JSON each: for programs that check the answers.

use std::error::Error;
use std::io::BufRead;

use runproof_quality::capability::capability;
use runproof_quality::charts::{offset, slope};
use runproof_quality::gauge::{Source, Study, anova, average_and_range, by_ranges};
use runproof_quality::proportion::exact_interval;
use runproof_quality::sampling::variables::{Risks, VariablesPlan};
use runproof_quality::sampling::{Plan, chance_of_finding, draw, zero_acceptance};
use runproof_quality::tolerance::{one_sided_factor, two_sided_factor};
use runproof_quality::{Chance, Description, Fraction, Interval, Limits, lag_1_autocorrelation};
use serde::Deserialize;
use serde_json::{Value, json};

#[derive(Deserialize)]
#[serde(tag = "what", rename_all = "snake_case")]
enum Question {
    Accepted {
        sample: u32,
        acceptance: u32,
        fraction: Fraction,
    },
    LotAccepted {
        sample: u32,
        acceptance: u32,
        lot: u32,
        nonconforming: u32,
    },
    Quality {
        sample: u32,
        acceptance: u32,
        chance: Chance,
    },
    OutgoingLimit {
        sample: u32,
        acceptance: u32,
        lot: u32,
    },
    Finding {
        lot: u32,
        nonconforming: u32,
        sample: u32,
    },
    ZeroAcceptance {
        lot: u32,
        limit: Fraction,
        risk: Chance,
    },
    Draw {
        lot: u32,
        sample: u32,
        seed: u64,
    },
    Variables {
        good: Chance,
        producers: Chance,
        bad: Chance,
        consumers: Chance,
    },
    Proportion {
        counted: u32,
        units: u32,
        confidence: Chance,
    },
    OneSided {
        count: usize,
        part: Chance,
        confidence: Chance,
    },
    TwoSided {
        count: usize,
        part: Chance,
        confidence: Chance,
    },
    Capability {
        count: usize,
        mean: f64,
        deviation: f64,
        lower: f64,
        upper: f64,
        confidence: Chance,
    },
    Gauge {
        readings: Vec<Vec<Vec<f64>>>,
        significance: Chance,
    },
    Described {
        values: Vec<f64>,
    },
    Offset {
        values: Vec<f64>,
        reference: f64,
        confidence: Chance,
    },
    Slope {
        points: Vec<(f64, f64)>,
        confidence: Chance,
    },
}

fn main() -> Result<(), Box<dyn Error>> {
    for line in std::io::stdin().lock().lines() {
        println!("{}", answer(serde_json::from_str(&line?)?)?);
    }
    Ok(())
}

fn answer(question: Question) -> Result<Value, Box<dyn Error>> {
    let plan = |sample, acceptance| Plan::new(sample, acceptance, acceptance + 1);
    let ends = |interval: Interval| [interval.least, interval.most];
    Ok(match question {
        Question::Accepted { sample, acceptance, fraction } => {
            let plan = plan(sample, acceptance)?;
            json!([plan.chance_accepted(fraction), plan.chance_rejected(fraction)])
        }
        Question::LotAccepted { sample, acceptance, lot, nonconforming } => {
            json!([plan(sample, acceptance)?.chance_lot_accepted(lot, nonconforming)?])
        }
        Question::Quality { sample, acceptance, chance } => {
            json!([plan(sample, acceptance)?.quality_accepted_with(chance)?])
        }
        Question::OutgoingLimit { sample, acceptance, lot } => {
            let limit = plan(sample, acceptance)?.outgoing_quality_limit(lot);
            json!([limit.fraction, limit.at_fraction])
        }
        Question::Finding { lot, nonconforming, sample } => {
            json!([chance_of_finding(lot, nonconforming, sample)?])
        }
        Question::ZeroAcceptance { lot, limit, risk } => {
            let found = zero_acceptance(lot, limit, risk)?;
            json!([found.plan.sample_size(), found.nonconforming_at_limit, found.consumers_risk])
        }
        Question::Draw { lot, sample, seed } => json!(draw(lot, sample, seed)?),
        Question::Variables { good, producers, bad, consumers } => {
            let plan = VariablesPlan::one_limit(&Risks { good, producers, bad, consumers })?;
            let accepted = plan.chance_accepted(Fraction::new(good.value())?);
            json!([plan.sample_size, plan.acceptability_constant, accepted])
        }
        Question::Proportion { counted, units, confidence } => {
            json!(ends(exact_interval(counted, units, confidence)?))
        }
        Question::OneSided { count, part, confidence } => {
            json!([one_sided_factor(count, part, confidence)?.exact])
        }
        Question::TwoSided { count, part, confidence } => {
            let factor = two_sided_factor(count, part, confidence)?;
            json!([factor.exact, factor.approximate])
        }
        Question::Capability { count, mean, deviation, lower, upper, confidence } => {
            let sample = Description::from_summary(count, mean, deviation)?;
            let found = capability(&sample, Limits::Both(lower, upper), None, confidence)?;
            let indices = [found.cp, found.cpu, found.cpl, Some(found.cpk)];
            json!(indices.map(|index| index.map(|index| ends(index.interval))))
        }
        Question::Gauge { readings, significance } => {
            let study = Study::of(&readings)?;
            let found = anova(&study, significance)?;
            let source = |of: Source| json!([of.sum_of_squares, of.degrees_of_freedom, of.f, of.p]);
            json!({
                "model": found.model,
                "part": source(found.part),
                "operator": source(found.operator),
                "interaction": source(found.interaction),
                "components": found.components,
                "by_ranges": average_and_range(&by_ranges(&study))?,
            })
        }
        Question::Described { values } => {
            let found = Description::of(&values)?;
            json!([found.mean(), found.standard_deviation(), lag_1_autocorrelation(&values)?])
        }
        Question::Offset { values, reference, confidence } => {
            json!(ends(offset(&values, reference, confidence)?.interval))
        }
        Question::Slope { points, confidence } => {
            json!(ends(slope(&points, confidence)?.interval))
        }
    })
}
