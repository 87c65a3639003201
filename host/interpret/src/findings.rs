//! What is wrong with the run, from what was found.

mod between;
mod coupled;
mod exchanged;

pub(crate) use between::{beyond, of_isolation, valued};
pub(crate) use coupled::add_coupled;
use exchanged::{clips, exchange};
use runproof_protocol::Post;

use crate::held::Held;
use crate::judgement::{
    Conductor, ExplainsComplaint, Finding, FindingKind, Placed, Reason, Severity,
};
use crate::limits::LimitSheet;
use crate::survey::Survey;

pub(crate) fn of_conductors(
    survey: &Survey,
    conductors: &[(Conductor, Option<Held>)],
    sheet: &LimitSheet,
    placed: &Placed,
) -> Vec<Finding> {
    let mut findings: Vec<Finding> = survey.open.iter().map(|post| open(*post)).collect();
    findings.extend(exchange(&survey.reaches, sheet, placed));
    findings.extend(clips(placed));
    for (conductor, held) in conductors {
        let joint = survey.joints_ohm.iter().find(|(post, _)| *post == conductor.post);
        findings.extend(
            by_limit(conductor, *held)
                .or_else(|| joint.map(|(post, joint_ohm)| uneven(*post, *joint_ohm))),
        );
    }
    findings.extend(survey.obstacles.iter().cloned());
    findings
}

fn open(post: Post) -> Finding {
    let mut finding = Finding::new(FindingKind::Open, Severity::Fail);
    finding.posts = vec![post];
    finding.explains_complaint = ExplainsComplaint::Yes;
    finding
}

fn by_limit(conductor: &Conductor, held: Option<Held>) -> Option<Finding> {
    let held = held?;
    let (ohm, expanded_ohm) = (conductor.resistance_ohm?, conductor.expanded_uncertainty_ohm?);
    let reason = match conductor.reason {
        // It is as long whichever terminal it arrives at.
        Reason::ArrivesElsewhere => held.decide(ohm, expanded_ohm),
        other => other,
    };
    let kind = match reason {
        Reason::BeyondLimit => FindingKind::HighResistance,
        _ => FindingKind::TooCloseToLimit,
    };
    let finding = Finding::new(kind, held.gravity(reason)?);
    let mut finding = finding.ohms(ohm, Some(expanded_ohm));
    finding.posts = vec![conductor.post];
    finding.explains_complaint = held.explains_complaint;
    Some(finding)
}

fn uneven(post: Post, joint_ohm: f64) -> Finding {
    let finding = Finding::new(FindingKind::UnevenResistance, Severity::Note);
    let mut finding = finding.ohms(joint_ohm, None);
    finding.posts = vec![post];
    finding.explains_complaint = ExplainsComplaint::Unlikely;
    finding
}
