//! The pair resistances as they would be without what leaks between the conductors.

use nalgebra::DMatrix;

use super::PairResistances;
use crate::isolation::Isolation;

/// Where along the run it leaks is not known: at the jig's end it takes most. [judgement]
const PLACE_U: f64 = 0.1;

/// Takes the leaks' conductances off: then nothing is between the conductors. The resistances among n posts are those of a network with
/// conductances g_ab = −Y_ab, where Y is the inverse of Z, and Z_ab = (R_an + R_bn − R_ab)/2.
pub(crate) fn without_leaks(measured: PairResistances, isolation: &Isolation) -> PairResistances {
    let nothing_between = true;
    PairResistances { nothing_between, ..corrected(&measured, isolation).unwrap_or(measured) }
}

fn corrected(measured: &PairResistances, isolation: &Isolation) -> Option<PairResistances> {
    let (last, posts) = measured.posts.split_last()?;
    let n = posts.len();
    let ohm = |a: usize, b: usize| measured.between_ohm(posts[a], posts[b]);
    let to_last = |a: usize| measured.between_ohm(posts[a], *last);
    let mut impedance = DMatrix::zeros(n, n);
    for a in 0..n {
        for b in 0..n {
            impedance[(a, b)] = (to_last(a)? + to_last(b)? - ohm(a, b)?) / 2.0;
        }
    }
    let mut admittance = impedance.try_inverse()?;
    for path in isolation.paths.iter().filter(|path| !path.at_least) {
        let siemens = 1.0 / path.ohm;
        let place = |post| posts.iter().position(|one| *one == post);
        let (a, b) = (place(path.posts.0), place(path.posts.1));
        let among = |post| measured.posts.contains(&post);
        if !(among(path.posts.0) && among(path.posts.1)) {
            continue;
        }
        for k in [a, b].into_iter().flatten() {
            admittance[(k, k)] -= siemens;
        }
        if let (Some(a), Some(b)) = (a, b) {
            admittance[(a, b)] += siemens;
            admittance[(b, a)] += siemens;
        }
    }
    let impedance = admittance.try_inverse()?;
    let mut corrected = measured.clone();
    for (index, (a, b)) in measured.pairs.iter().enumerate() {
        let place = |post| posts.iter().position(|one| *one == post);
        let own = |k: Option<usize>| k.map_or(0.0, |k| impedance[(k, k)]);
        let (a, b) = (place(*a), place(*b));
        let mutual = a.zip(b).map_or(0.0, |(a, b)| impedance[(a, b)]);
        let without_ohm = own(a) + own(b) - 2.0 * mutual;
        let u_ohm = PLACE_U * (without_ohm - measured.ohm[index]);
        corrected.covariance_ohm2[(index, index)] += u_ohm.powi(2);
        corrected.ohm[index] = without_ohm;
    }
    Some(corrected)
}
