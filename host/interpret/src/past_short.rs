//! A run past a short: how far along it lies, and where the conductors arrive; fitted to what is read with
//! the end plug in and out.

mod gauss_newton;
mod shorted_run;

use nalgebra::{Cholesky, Const, SMatrix};
use runproof_protocol::Post;
use shorted_run::{Readings, ShortedRun, Unlike};

use crate::isolation::Path;
use crate::judgement::Interval;
use crate::map::Map;
use crate::resistances::PairResistances;
use crate::run::{Expected, RIVAL_WITHIN, penalty};

type Covariance = SMatrix<f64, 7, 7>;
type Factor = Cholesky<f64, Const<7>>;

/// A χ² above this, of four degrees of freedom, comes by chance once in a hundred (any table): more
/// than one short is wrong, a joint beside it perhaps, and the place would be wrong with it. A small
/// joint is not told so: the place is that of a run with nothing else wrong.
const PLACED_MAX: f64 = 13.28;

/// χ² of one degree of freedom is above this in one of twenty (any table).
const ALLOWED_WITHIN: f64 = 3.84;

/// So much that a joint explains all that one can. [judgement]
const JOINT_OHM: f64 = 30.0;

/// Parts of a run between places that are tried: first all along it, then closer about the best, so
/// often; and all along it where an interval is looked for.
const COARSE: usize = 10;
const ROUNDS: usize = 3;
const FINE: usize = 100;

/// Past a better short than this a joint of a tenth of an ohm makes the two that are shorted look
/// exchanged: where these two arrive is then not told. [judgement]
const TOLD_APART_OHM: f64 = 1.0;

/// Of a derivative, as a part of an ohm.
const STEP_OHM: f64 = 1e-4;

/// What the readings allow.
#[derive(Clone, Debug)]
pub(crate) struct PastShort {
    /// From the jig to the short, as a fraction of the run.
    pub(crate) fraction: Interval,
    /// One conductor's wire from the jig to the short.
    pub(crate) near_ohm: Interval,
    /// Where each conductor arrives; nothing where maps that explain the readings differ.
    pub(crate) reaches: [Option<Post>; 4],
}

/// A run with the short at one place, as well as it can be fitted.
#[derive(Clone, Copy, Debug)]
struct Fit {
    fraction: f64,
    wire_ohm: f64,
    fault_ohm: f64,
    chi_squared: f64,
}

/// One map, with the short at every place.
struct Profile<'a> {
    run: ShortedRun<'a>,
    factor: Factor,
    best: Fit,
}

/// The place, and how far from it the short may lie: all places at which χ² is not above the least by
/// more than chance has it (one parameter, the others fitted again; any textbook of
/// likelihood), under every map that explains the readings. `None` where none does.
pub(crate) fn past_short(
    expected: &Expected,
    measured: &PairResistances,
    path: &Path,
) -> Option<PastShort> {
    if measured.pairs.len() != 6 {
        return None;
    }
    let read = Read::of(expected, measured, path);
    let profiles: Vec<Profile> = Map::all().filter_map(|map| read.profile(map, path)).collect();
    let score = |one: &Profile| one.best.chi_squared + penalty(one.run.map, 1);
    let best = profiles.iter().min_by(|a, b| score(a).total_cmp(&score(b)))?;
    if !(best.best.chi_squared <= PLACED_MAX) {
        return None;
    }
    let rivals = || profiles.iter().filter(|one| score(one) <= score(best) + RIVAL_WITHIN);
    let allowed: Vec<Fit> = rivals().flat_map(|rival| read.allowed(rival)).collect();
    let straight = profiles.iter().find(|one| one.run.map == Map::STRAIGHT);
    let nearest = score(best) + RIVAL_WITHIN - penalty(Map::STRAIGHT, 2);
    let or_a_joint = best.run.map != Map::STRAIGHT
        && straight.is_some_and(|one| read.with_a_joint(one) <= nearest);
    let posts = [path.posts.0, path.posts.1];
    let reaches = Post::ALL.map(|post| {
        if posts.contains(&post) && best.best.fault_ohm < TOLD_APART_OHM {
            return None;
        }
        let terminal = best.run.map.reaches(post);
        if or_a_joint && terminal != post {
            return None;
        }
        rivals().all(|rival| rival.run.map.reaches(post) == terminal).then_some(terminal)
    });
    let interval = |of: fn(&Fit) -> f64| Interval {
        value: of(&best.best),
        least: allowed.iter().map(of).fold(of(&best.best), f64::min),
        most: allowed.iter().map(of).fold(of(&best.best), f64::max),
    };
    let near_ohm = interval(|fit| fit.fraction * fit.wire_ohm);
    Some(PastShort { fraction: interval(|fit| fit.fraction), near_ohm, reaches })
}

/// What was read, and how well.
struct Read<'a> {
    expected: &'a Expected,
    measured: &'a PairResistances,
    ohm: Readings,
    open_u_ohm: f64,
}

impl<'a> Read<'a> {
    fn of(expected: &'a Expected, measured: &'a PairResistances, path: &Path) -> Self {
        let ohm = Readings::from_fn(|n, _| {
            measured.ohm.get(n).copied().unwrap_or(path.ohm / expected.scale())
        });
        Self { expected, measured, ohm, open_u_ohm: path.u_ohm }
    }

    fn profile(&self, map: Map, path: &Path) -> Option<Profile<'a>> {
        let run = ShortedRun { expected: self.expected, map, posts: path.posts };
        let start = Fit { fraction: 0.5, wire_ohm: 1.0, fault_ohm: path.ohm, chi_squared: 0.0 };
        // What may be unlike counts by the wire there is: it is found without knowing that first.
        let rough = self.best(&run, &self.factor(&run, start)?, start);
        let factor = self.factor(&run, rough)?;
        let best = self.best(&run, &factor, rough);
        best.chi_squared.is_finite().then_some(Profile { run, factor, best })
    }

    fn best(&self, run: &ShortedRun, factor: &Factor, start: Fit) -> Fit {
        let mut near = Fit { fraction: 0.5, ..start };
        let mut half_width = 0.5;
        for _ in 0..ROUNDS {
            let about = along(COARSE).map(|part| near.fraction + half_width * (2.0 * part - 1.0));
            let places = about.filter(|fraction| (0.0..=1.0).contains(fraction));
            let fits = places.map(|fraction| self.fit(run, factor, Fit { fraction, ..near }));
            near = fits.min_by(by_chi_squared).unwrap_or(near);
            half_width *= 2.0 / COARSE as f64;
        }
        near
    }

    /// Every place that the readings allow under this map.
    fn allowed(&self, profile: &Profile) -> Vec<Fit> {
        let most = profile.best.chi_squared + ALLOWED_WITHIN;
        let at =
            |fraction| self.fit(&profile.run, &profile.factor, Fit { fraction, ..profile.best });
        let fits: Vec<Fit> = along(FINE).map(at).collect();
        let is_allowed = |fit: &Fit| fit.chi_squared <= most;
        // Between an allowed place and one that is not, the border: as a parabola has it, roughly.
        let borders = fits.windows(2).filter(|two| is_allowed(&two[0]) != is_allowed(&two[1]));
        let borders = borders.map(|two| {
            let part = (most - two[0].chi_squared) / (two[1].chi_squared - two[0].chi_squared);
            at(two[0].fraction + part * (two[1].fraction - two[0].fraction))
        });
        let borders: Vec<Fit> = borders.collect();
        fits.into_iter().filter(is_allowed).chain(borders).collect()
    }

    /// The least χ² of this run if one of its conductors may have any joint, before or after the short: as
    /// the readings change with a small one.
    fn with_a_joint(&self, profile: &Profile) -> f64 {
        let Profile { run, factor, best } = profile;
        let ends = (0..4).flat_map(|k| [false, true].map(|beyond| (k, beyond)));
        let each = ends.filter_map(|(k, beyond)| {
            let mut joint = Unlike::default();
            let legs = if beyond { &mut joint.far_ohm } else { &mut joint.near_ohm };
            legs[k] = JOINT_OHM;
            let ohm = [best.wire_ohm, best.fault_ohm];
            let here = run.readings(best.fraction, ohm, &Unlike::default());
            let change = run.readings(best.fraction, ohm, &joint) - here;
            let loose = factor.l() * factor.l().transpose() + change * change.transpose();
            Some(self.best(run, &loose.cholesky()?, *best).chi_squared)
        });
        each.fold(f64::INFINITY, f64::min)
    }

    /// Wire and fault at one place, neither below nothing.
    fn fit(&self, run: &ShortedRun, factor: &Factor, start: Fit) -> Fit {
        let at = |ohm| run.readings(start.fraction, ohm, &Unlike::default());
        let from = [start.wire_ohm, start.fault_ohm];
        let ohm = gauss_newton::fit(at, &self.ohm, factor, from, [STEP_OHM; 2]);
        let rest = self.ohm - at(ohm);
        let chi_squared = rest.dot(&factor.solve(&rest));
        Fit { wire_ohm: ohm[0], fault_ohm: ohm[1], chi_squared, ..start }
    }

    /// The covariance of all seven readings about a run like this, factored.
    fn factor(&self, run: &ShortedRun, about: Fit) -> Option<Factor> {
        let Fit { fraction, wire_ohm, fault_ohm, .. } = about;
        let expected = self.expected;
        let causes = expected.covariance(run.map, self.measured);
        let mut covariance = Covariance::zeros();
        covariance.view_mut((0, 0), (6, 6)).copy_from(&causes);
        covariance[(6, 6)] = self.open_u_ohm.powi(2);
        let here = run.readings(fraction, [wire_ohm, fault_ohm], &Unlike::default());
        for k in 0..4 {
            let mut wire = Unlike::default();
            wire.wire[k] = expected.sibling_spread;
            let mut near = Unlike::default();
            near.near_ohm[k] = expected.contacts.near_u_ohm;
            let mut far = Unlike::default();
            far.far_ohm[k] = expected.contacts.far_u_ohm;
            for unlike in [wire, near, far] {
                let change = run.readings(fraction, [wire_ohm, fault_ohm], &unlike) - here;
                covariance += change * change.transpose();
            }
        }
        covariance.cholesky()
    }
}

/// From 0 to 1.
fn along(parts: usize) -> impl Iterator<Item = f64> {
    (0..=parts).map(move |n| n as f64 / parts as f64)
}

fn by_chi_squared(a: &Fit, b: &Fit) -> std::cmp::Ordering {
    a.chi_squared.total_cmp(&b.chi_squared)
}
