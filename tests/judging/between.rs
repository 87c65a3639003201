//! What joins two conductors is named, by the pair and by its ohms.

use runproof_firmware::boards::simulated::Short;
use runproof_interpret::judgement::{Finding, FindingKind, Verdict};
use runproof_interpret::{LimitSheet, RunKnowledge, judge};
use runproof_protocol::Post;

use crate::{expect_none, good_run, measured};

/// A finding of this kind on just these two posts, whose interval holds the truth.
fn names(finding: &Finding, kind: FindingKind, pair: [Post; 2], truth_ohm: f64) -> bool {
    let value = finding.value.zip(finding.expanded_uncertainty);
    finding.kind == kind
        && finding.posts == pair
        && value.is_some_and(|(ohm, u_ohm)| (ohm - truth_ohm).abs() <= u_ohm)
}

/// 0.8 Ω, with the wire before it on both sides: within the interval, and what two near contacts add.
#[test]
fn a_short_on_each_pair_is_named() {
    const CONTACTS_OHM: f64 = 0.15;
    let lifted = RunKnowledge { lifted: true, ..RunKnowledge::default() };
    let (mut wrong, mut checks) = (vec![], 0);
    for (a, b) in Post::PAIRS {
        for at in [0.0, 0.37, 1.0] {
            for seed in 0..10 {
                let mut scene = good_run();
                scene.run.short = vec![Short { posts: [a.number(), b.number()], at, ohm: 0.8 }];
                let wire_ohm = 20.95e-3 * 30.0 * (1.0 + 0.003_93 * (27.0 - 20.0));
                let truth_ohm = 0.8 + 2.0 * at * wire_ohm;
                let run = format!("{:?} seed {seed}", scene.run);
                let judgement =
                    judge(&measured(scene, seed), &LimitSheet::service_24vac(), &lifted);
                let named = judgement.findings.iter().any(|finding| {
                    let near = finding.value.is_some_and(|ohm| {
                        (truth_ohm - 0.06..truth_ohm + CONTACTS_OHM).contains(&ohm)
                    });
                    finding.kind == FindingKind::Short && finding.posts == [a, b] && near
                });
                if !named || judgement.verdict != Verdict::Fail {
                    wrong.push(format!("{run}: {:?}", judgement.findings));
                }
                checks += 1;
            }
        }
    }
    expect_none("shorts of 0.8 Ω", checks, &wrong);
}

#[test]
fn a_leak_on_each_pair_is_named() {
    let (mut wrong, mut checks) = (vec![], 0);
    for (a, b) in Post::PAIRS {
        for (ohm, verdict) in [(20e3, Verdict::Fail), (70e3, Verdict::Fail), (400e3, Verdict::Pass)]
        {
            for seed in 0..10 {
                let mut scene = good_run();
                scene.run.short = vec![Short { posts: [a.number(), b.number()], at: 0.6, ohm }];
                let run = format!("{:?} seed {seed}", scene.run);
                let known = RunKnowledge::default();
                let judgement = judge(&measured(scene, seed), &LimitSheet::service_24vac(), &known);
                let named = judgement
                    .findings
                    .iter()
                    .any(|finding| names(finding, FindingKind::Leakage, [a, b], ohm));
                if !named || judgement.verdict != verdict {
                    wrong.push(format!("{run}: {:?}", judgement.findings));
                }
                checks += 1;
            }
        }
    }
    expect_none("leaks", checks, &wrong);
}

/// Between metal that touches and damp: a carbonised splice, a wet staple.
#[test]
fn a_poor_short_on_each_pair_is_named() {
    let (mut wrong, mut checks) = (vec![], 0);
    for (a, b) in Post::PAIRS {
        for ohm in [200.0, 500.0, 900.0, 1_500.0, 4_000.0] {
            for seed in 0..5 {
                let mut scene = good_run();
                scene.run.short = vec![Short { posts: [a.number(), b.number()], at: 0.6, ohm }];
                let run = format!("{:?} seed {seed}", scene.run);
                let known = RunKnowledge::default();
                let judgement = judge(&measured(scene, seed), &LimitSheet::service_24vac(), &known);
                let kind = if ohm < 1_000.0 { FindingKind::Short } else { FindingKind::Leakage };
                let wire_ohm = 2.0 * 0.6 * 0.65;
                let named = judgement
                    .findings
                    .iter()
                    .any(|finding| names(finding, kind, [a, b], ohm + wire_ohm));
                if !named || judgement.verdict != Verdict::Fail {
                    wrong.push(format!("{run}: {:?}", judgement.findings));
                }
                checks += 1;
            }
        }
    }
    expect_none("poor shorts", checks, &wrong);
}
