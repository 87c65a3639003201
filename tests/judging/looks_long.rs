//! A run that reaches nothing looks as long as it is.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{EndPlug, OpenConductor};
use runproof_interpret::judgement::{FindingKind, Verdict};
use runproof_protocol::Post;

use crate::{any_run, expect_none, judged, measured};

/// Of what the sheet allows a metre: one conductor to the other three.
const PF_PER_M: std::ops::Range<f64> = 70.0..160.0;

/// Whole with no plug, or cut through somewhere: the piece on the clips has its capacitance within the
/// interval, and its length within the longer one.
#[test]
fn a_run_that_reaches_nothing_looks_as_long_as_it_is() {
    let mut random = Pcg32::seed_from_u64(31);
    let (mut wrong, mut covered, mut capacitances) = (vec![], 0, 0);
    for seed in 0..60 {
        let mut scene = any_run(&mut random);
        let one_to_three_pf_per_m = random.random_range(PF_PER_M);
        scene.run.pf_per_m = one_to_three_pf_per_m / 3.0;
        scene.run.length_m = random.random_range(1.0..90.0);
        let mut piece_m = scene.run.length_m;
        if seed % 2 == 0 {
            let at = random.random_range(0.05..0.95);
            scene.run.open = [1, 2, 3, 4].map(|post| OpenConductor { post, at }).into();
            piece_m *= at;
        } else {
            scene.plug = EndPlug::Out;
        }
        let judgement = judged(&measured(scene, seed));
        let truth_pf = piece_m * one_to_three_pf_per_m;
        assert_eq!(judgement.capacitance.len(), Post::ALL.len());
        for one in &judgement.capacitance {
            let off_pf = (one.picofarads - truth_pf).abs();
            capacitances += 1;
            covered += usize::from(off_pf <= one.expanded_uncertainty_picofarads);
        }
        let looks = judgement.looks_long.expect("nothing joins them");
        let right = judgement.verdict == Verdict::CannotTell
            && judgement.findings[0].kind == FindingKind::NoEndPlug
            && (looks.least_m..=looks.most_m).contains(&piece_m)
            && (looks.least_m..=looks.most_m).contains(&looks.metres);
        if !right {
            wrong.push(format!("seed {seed}: {piece_m:.1} m looks {looks:?}"));
        }
    }
    println!("{covered} of {capacitances} intervals cover the capacitance");
    assert!(covered * 100 >= capacitances * 94, "{covered} of {capacitances}");
    expect_none("lengths of what reaches nothing", 60, &wrong);
}
