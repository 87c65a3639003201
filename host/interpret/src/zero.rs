//! A zero: what the jig reads of its end plug, with the tail on its own clips and no run between.

use runproof_protocol::{Phase, Post};

use crate::capture::{Capture, Entry, Zero};
use crate::judgement::{Finding, FindingKind, Zeroed};
use crate::limits::LimitSheet;
use crate::map::Map;
use crate::observations::Observations;
use crate::obstacle::Obstacle;
use crate::resistances::{self, Connected, PairResistances};
use crate::run::{self, Expected};
use crate::survey::survey;
use crate::{completeness, live};

/// Contacts add no more than their mean and so much to one conductor, nor less, nor four of them on
/// average: what has more is a run. [judgement]
const ONE_MAX_OHM: f64 = 0.15;
const MEAN_MAX_OHM: f64 = 0.07;

/// A capture that is no zero.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoZero {
    /// Something is in the way: no plug, a voltage, a phase that was not finished.
    #[error("the end plug could not be read through the clips")]
    Obstacle(Box<Finding>),
    /// These reach nothing.
    #[error("the tail does not meet every clip")]
    Open(Vec<Post>),
    /// The tail's clips are on other clips than their own.
    #[error("the tail's clips are exchanged")]
    Crossed([Option<Post>; 4]),
    /// More than clips have is between: so much on this post, in ohms, or on average.
    #[error("there is a run between, or a bad contact")]
    OnARun {
        /// The one with most, if one alone stands out.
        post: Option<Post>,
        /// Beyond what contacts have on average.
        ohm: f64,
    },
    /// It was not kept when it was taken.
    #[error("it does not say when it was taken")]
    NoTime,
}

/// The zero that this capture's plug phase is.
pub fn zero(capture: &Capture) -> Result<Zero, NoZero> {
    let measured = match read(capture) {
        Ok(Read::All(measured)) => measured,
        Ok(Read::AllBut(open)) => return Err(NoZero::Open(open)),
        Err(found) => return Err(NoZero::Obstacle(Box::new(found.into()))),
    };
    check(capture, &measured)?;
    Ok(Zero {
        ohm: std::array::from_fn(|n| measured.ohm[n]),
        u_ohm: std::array::from_fn(|n| measured.covariance_ohm2[(n, n)].sqrt()),
        jig_c: capture.jig_c(),
        taken_unix_s: capture.head.taken_unix_s.ok_or(NoZero::NoTime)?,
    })
}

/// What the posts meet.
enum Read {
    All(PairResistances),
    AllBut(Vec<Post>),
}

fn read(capture: &Capture) -> Result<Read, Obstacle> {
    completeness::check(capture, Phase::Plug)?;
    live::check(capture, Phase::Plug)?;
    let jig = &capture.head.jig;
    let observations = Observations::of(capture, Phase::Plug)?;
    let swings = resistances::swings(&observations, jig)?;
    let posts = |with: &dyn Fn(&Post) -> bool| Post::ALL.into_iter().filter(with).collect();
    Ok(match resistances::connected(&swings) {
        Connected::All => {
            resistances::check_undisturbed(&observations, jig, &Post::ALL)?;
            Read::All(resistances::among_all(&swings)?)
        }
        Connected::AllBut(open) => Read::AllBut(vec![open]),
        Connected::Two(two) => Read::AllBut(posts(&|post| !two.contains(post))),
        Connected::TwoAndTwo => return Err(Obstacle::new(FindingKind::Unexplained)),
        Connected::None => return Err(Obstacle::new(FindingKind::NoEndPlug)),
    })
}

/// Nothing but clips is between, each on its own: crossed, the ring is off by ohms.
fn check(capture: &Capture, measured: &PairResistances) -> Result<(), NoZero> {
    let sheet = LimitSheet::service_24vac();
    let expected = Expected::of(&capture.head, &sheet, None, (capture.jig_c(), false));
    let unexplained =
        || NoZero::Obstacle(Box::new(Finding::from(Obstacle::new(FindingKind::Unexplained))));
    let legs = run::legs(&expected, measured, Map::STRAIGHT).ok_or_else(unexplained)?.legs;
    let most = legs.iter().max_by(|a, b| a.ohm.total_cmp(&b.ohm)).ok_or_else(unexplained)?;
    let mean_ohm = legs.iter().map(|leg| leg.ohm).sum::<f64>() / 4.0;
    let one_stands_out = !(most.ohm <= ONE_MAX_OHM);
    if one_stands_out || legs.iter().any(|leg| !(leg.ohm >= -ONE_MAX_OHM)) {
        let survey = survey(&without_zero(capture), &sheet, None);
        if survey.map.is_some_and(|map| map != Map::STRAIGHT) {
            return Err(NoZero::Crossed(survey.reaches));
        }
        return Err(match most.ohm {
            ohm if one_stands_out => NoZero::OnARun { post: Some(most.post), ohm },
            _ => unexplained(),
        });
    }
    if !(mean_ohm <= MEAN_MAX_OHM) {
        return Err(NoZero::OnARun { post: None, ohm: mean_ohm });
    }
    Ok(())
}

/// Asked for again when older than this, or when the jig is so much warmer or colder: resistors drift.
/// [judgement]
const AGE_DAYS_MAX: f64 = 30.0;
const APART_K_MAX: f64 = 10.0;

/// How the capture's zero serves.
pub(crate) fn zeroed(capture: &Capture, fits: bool) -> Option<Zeroed> {
    let zero = capture.zero()?;
    let seconds = capture.head.taken_unix_s.map(|at| at as f64 - zero.taken_unix_s as f64);
    let age_days = seconds.map(|seconds| seconds / 86_400.0);
    let warmer_k = capture.jig_c().zip(zero.jig_c).map(|(now, then)| now - then);
    let fresh = age_days.is_some_and(|days| (0.0..=AGE_DAYS_MAX).contains(&days));
    let as_warm = warmer_k.is_some_and(|kelvins| kelvins.abs() <= APART_K_MAX);
    Some(Zeroed { used: fits, age_days, warmer_k, again: !(fits && fresh && as_warm) })
}

/// A zero is held against the nominal values, not against one before it.
fn without_zero(capture: &Capture) -> Capture {
    let mut alone = capture.clone();
    alone.entries.retain(|entry| !matches!(entry, Entry::Zero(_)));
    alone
}
