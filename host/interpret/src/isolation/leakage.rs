//! Conductance between the conductors, from what reaches the other posts when one is driven.

use nalgebra::{Matrix4, SMatrix, SVector};
use runproof_protocol::{Drive, Phase, Post, Range, Step};

use super::joined::Joined;
use crate::capture::{Capture, Channel, JigConstants, Node};
use crate::judgement::{Cause, FindingKind, Unit};
use crate::observations::{ground_ohm, variance_v2};
use crate::obstacle::Obstacle;
use crate::resistances::{OPEN_OHM, Swing};

/// Two conductors further apart than this from where the pulls hold them have a source on them.
/// [judgement]
const COUPLED_MAX_V: f64 = 0.2;

/// Nearer than this to a rail, hum may be cut off by the jig's clamps.
const RAIL_MARGIN_V: f64 = 0.1;

/// A pull line's pin with its series resistor: it gives way a little when a post is driven.
const PULL_LINE_OHM: f64 = 250.0;
const PULL_LINE_TOLERANCE: f64 = 0.15;

/// Hum lies evenly in a mean of 100 ms; of its standard deviation at most this much is left.
const HUM_LEFT: f64 = 5e-3;

/// Pulls and input impedance, as a fraction of a conductance. [judgement]
const MODEL_U: f64 = 0.01;

/// A conductance that the readings do not determine is taken for none, give or take this.
const PRIOR_U_S: f64 = 1.0;

/// Conductance of each pair, and its standard uncertainty.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Leak {
    pub(crate) siemens: f64,
    pub(crate) u_siemens: f64,
}

/// How far a node gives way when a converter's input loads it depends on the leaks: found with what the
/// pairs tell of them first. Without them a path of a kilohm would seem to have less than nothing.
const PASSES: usize = 3;

/// No path that the pairs tell is taken for better than this, to begin with.
const BEGUN_LEAST_OHM: f64 = 0.01;

/// In the order of [`Post::PAIRS`].
pub(super) fn between(
    capture: &Capture,
    jig: &JigConstants,
    swings: &[Swing; 6],
    joined: &Joined,
) -> Result<[Leak; 6], Obstacle> {
    let rest = posts(capture, [Drive::Off; 4])?;
    check_rest(&rest)?;
    let mut driven = vec![];
    for post in Post::ALL {
        let moved = posts(capture, Drive::high_at(post))?;
        for held in moved.iter().filter(|held| held.post != post) {
            check_rails(held, &rest)?;
        }
        driven.push((post, moved));
    }
    let begun = swings.map(|swing| {
        let meets = swing.meets_below(OPEN_OHM);
        let siemens = if meets { 1.0 / swing.ohm().max(BEGUN_LEAST_OHM) } else { 0.0 };
        Leak { siemens, u_siemens: 0.0 }
    });
    let mut leaks = begun;
    for _ in 0..PASSES {
        let changes = driven.iter().map(|(post, moved)| {
            (*post, moved, Changes::between(&rest, moved, *post, &leaks, jig))
        });
        leaks = solved(&rest, changes, jig, joined)?;
        for (n, pair) in Post::PAIRS.into_iter().enumerate() {
            match joined.between(pair) {
                None => leaks[n] = begun[n],
                Some(firsts) if firsts != pair => leaks[n].siemens = 0.0, // it counts at the first posts
                Some(_) => {}
            }
        }
    }
    Ok(std::array::from_fn(|n| {
        let firsts = joined.between(Post::PAIRS[n]);
        let first = Post::PAIRS.into_iter().position(|pair| Some(pair) == firsts);
        leaks[first.unwrap_or(n)]
    }))
}

/// By how much each post gives way to a current drawn from each: the inverse of what holds them, their
/// own pulls and dividers, what leaks between them, and the drive of the one that is driven.
fn gives_way_ohm(leaks: &[Leak; 6], driven: Option<Post>, jig: &JigConstants) -> Matrix4<f64> {
    let own_s = 1.0 / jig.pull_ohm + 1.0 / jig.divider_ohm;
    let mut held_s = Matrix4::identity() * own_s;
    for ((a, b), leak) in Post::PAIRS.into_iter().zip(leaks) {
        let (a, b, siemens) = (a.index(), b.index(), leak.siemens.max(0.0));
        held_s[(a, a)] += siemens;
        held_s[(b, b)] += siemens;
        held_s[(a, b)] -= siemens;
        held_s[(b, a)] -= siemens;
    }
    if let Some(post) = driven {
        held_s[(post.index(), post.index())] += 1.0 / jig.series_ohm[post.index()];
    }
    held_s.try_inverse().unwrap_or_else(|| Matrix4::identity() / own_s)
}

/// With post i high, Σ_k g_jk (V_k − V_j) flows into each other post j, and from there into its pull,
/// its live divider and the converter's input. V are changes from the readings with nothing driven, so
/// that offsets and steady sources do not count. Twelve equations for six conductances.
fn solved<'a>(
    rest: &[Held; 4],
    changes: impl Iterator<Item = (Post, &'a [Held; 4], Changes)>,
    jig: &JigConstants,
    joined: &Joined,
) -> Result<[Leak; 6], Obstacle> {
    let mut normal = SMatrix::<f64, 6, 6>::identity() / PRIOR_U_S.powi(2);
    let mut right = SVector::<f64, 6>::zeros();
    for (driven, moved, read) in changes {
        let line_u_a = PULL_LINE_TOLERANCE * read.line_v / jig.pull_ohm;
        for first in joined.firsts().filter(|first| joined.with(*first).all(|j| j != driven)) {
            let members = || joined.with(first);
            let many = members().count() as f64;
            let noise_v2 = |j: Post| moved[j.index()].u_v.powi(2) + rest[j.index()].u_v.powi(2);
            let noise_a2 = members().map(noise_v2).sum::<f64>() / jig.pull_ohm.powi(2);
            let weight = 1.0 / (noise_a2 + (many * line_u_a).powi(2));
            let seen_v = |j: Post, at: Post| {
                let group = joined.with(at);
                let (count, sum_v) = group.fold((0.0, 0.0), |(count, sum_v), k| {
                    (count + 1.0, sum_v + read.seen_v[j.index()][k.index()])
                });
                sum_v / count
            };
            let mut row = SVector::<f64, 6>::zeros();
            for (n, (a, b)) in Post::PAIRS.into_iter().enumerate() {
                let other = if a == first { b } else { a };
                if (a == first || b == first) && joined.between((a, b)) == Some((a, b)) {
                    let across_v = |j| seen_v(j, other) - seen_v(j, first);
                    row[n] = members().map(across_v).sum::<f64>() / many;
                }
            }
            let into_a = |j: Post| read.into_a[j.index()] + read.input_a[j.index()] / many;
            normal += row * row.transpose() * weight;
            right += row * weight * members().map(into_a).sum::<f64>();
        }
    }
    let unsolvable = || Obstacle::new(FindingKind::Unexplained);
    let covariance = normal.try_inverse().ok_or_else(unsolvable)?;
    let siemens = covariance * right;
    Ok(std::array::from_fn(|n| {
        let u_siemens = f64::hypot(covariance[(n, n)].max(0.0).sqrt(), MODEL_U * siemens[n]);
        Leak { siemens: siemens[n], u_siemens }
    }))
}

/// What driving a post changes at all four.
struct Changes {
    /// At every post, by the post whose node is read: the converter's input loads that one, and by what
    /// leaks the others too.
    seen_v: [[f64; 4]; 4],
    /// Of the current that arrives at each post from the run, while its own node is read, but for what the
    /// converter's input takes.
    into_a: [f64; 4],
    /// Of that.
    input_a: [f64; 4],
    /// At the pull lines.
    line_v: f64,
}

impl Changes {
    fn between(
        rest: &[Held; 4],
        moved: &[Held; 4],
        driven: Post,
        leaks: &[Leak; 6],
        jig: &JigConstants,
    ) -> Self {
        let input_ohm = ground_ohm(Range::V4);
        let node_v: [f64; 4] = std::array::from_fn(|k| moved[k].mean_v - rest[k].mean_v);
        let line_v = node_v.iter().sum::<f64>() * PULL_LINE_OHM / (2.0 * jig.pull_ohm);
        let pulled_a = node_v.map(|v| (v - line_v) / jig.pull_ohm);
        let at_rest = gives_way_ohm(leaks, None, jig);
        let when_driven = gives_way_ohm(leaks, Some(driven), jig);
        let nodes_v = |held: &[Held; 4], ohm: &Matrix4<f64>, read: usize, k: usize| {
            let unloaded_v = held[k].mean_v * (1.0 + ohm[(k, k)] / input_ohm);
            unloaded_v - held[read].mean_v * ohm[(k, read)] / input_ohm
        };
        let seen_v = std::array::from_fn(|read| {
            std::array::from_fn(|k| {
                let change_v =
                    nodes_v(moved, &when_driven, read, k) - nodes_v(rest, &at_rest, read, k);
                let input_a = if k == read { node_v[k] / input_ohm } else { 0.0 };
                change_v + jig.sense_ohm * (pulled_a[k] + input_a)
            })
        });
        let into_a = std::array::from_fn(|k| pulled_a[k] + seen_v[k][k] / jig.divider_ohm);
        let input_a = node_v.map(|v| v / input_ohm);
        Self { seen_v, into_a, input_a, line_v }
    }
}

/// One sense node over 100 ms.
#[derive(Clone, Copy, Debug)]
struct Held {
    post: Post,
    mean_v: f64,
    least_v: f64,
    most_v: f64,
    u_v: f64,
}

/// All sense nodes with the posts driven so and the pulls at half the supply, relays closed.
fn posts(capture: &Capture, drives: [Drive; 4]) -> Result<[Held; 4], Obstacle> {
    let mut held = vec![];
    for post in Post::ALL {
        held.push(one(capture, drives, post)?);
    }
    Ok(std::array::from_fn(|k| held[k]))
}

fn one(capture: &Capture, drives: [Drive; 4], post: Post) -> Result<Held, Obstacle> {
    let channel = Channel { node: Node::Sense, post, against: None };
    let readings: Vec<_> = capture
        .readings(Phase::Open)
        .filter(|reading| {
            reading.step == Step::Leakage
                && reading.drives == drives
                && reading.pulls == [Drive::High, Drive::Low]
                && reading.relays_closed
                && reading.channel == channel
        })
        .collect();
    if readings.iter().any(|reading| reading.saturated || !reading.volts.is_finite()) {
        return Err(Obstacle::incomplete(Cause::Saturated).posts([post]));
    }
    if readings.is_empty() {
        return Err(Obstacle::incomplete(Cause::ReadingsMissing).posts([post]));
    }
    let volts = || readings.iter().map(|reading| reading.volts);
    let count = readings.len() as f64;
    let mean_v = volts().sum::<f64>() / count;
    let spread_v2 = volts().map(|v| (v - mean_v).powi(2)).sum::<f64>() / count;
    let noise_v2 = readings.iter().map(|reading| variance_v2(reading.range)).sum::<f64>();
    Ok(Held {
        post,
        mean_v,
        least_v: volts().fold(f64::INFINITY, f64::min),
        most_v: volts().fold(f64::NEG_INFINITY, f64::max),
        u_v: (noise_v2 / count.powi(2) + HUM_LEFT.powi(2) * spread_v2).sqrt(),
    })
}

/// Undriven, the pulls hold all four at half the supply.
fn check_rest(rest: &[Held; 4]) -> Result<(), Obstacle> {
    let half_v = rest.iter().map(|held| held.mean_v).sum::<f64>() / 4.0;
    for held in rest {
        check_rails(held, rest)?;
        let off_v = (held.mean_v - half_v).abs();
        if !(off_v <= COUPLED_MAX_V) {
            return Err(Obstacle::new(FindingKind::SomethingConnected)
                .cause(Cause::Source)
                .posts([held.post])
                .value(off_v, Unit::Volt));
        }
    }
    Ok(())
}

fn check_rails(held: &Held, rest: &[Held; 4]) -> Result<(), Obstacle> {
    let supply_v = rest.iter().map(|held| held.mean_v).sum::<f64>() / 2.0;
    let within = RAIL_MARGIN_V..=supply_v - RAIL_MARGIN_V;
    let hums = held.most_v - held.least_v > RAIL_MARGIN_V;
    if hums && !(within.contains(&held.least_v) && within.contains(&held.most_v)) {
        return Err(Obstacle::new(FindingKind::Unsteady).posts([held.post]));
    }
    Ok(())
}
