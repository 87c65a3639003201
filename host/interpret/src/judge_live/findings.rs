//! What is wrong on a live run, or could not be told; the gravest first.

use runproof_protocol::Post;

use super::conductors;
use super::floats;
use super::largest::hazards;
use super::pair;
use super::seen::Seen;
use super::supply::{self, COUPLED};
use super::window::rms;
use crate::judgement::{
    LiveCause, LiveConductor, LiveFinding, LiveFindingKind as Kind, LivePair, LiveReason,
    LiveSupply, LiveUnit, Measured, SupplyKind,
};
use crate::limits::{ConductorName, LimitSheet, Severity};

/// What all conductors may do together: more may be one that is live to earth. A floating jig sees 2.5 V of 120 V through
/// 50 pF to earth; what is left of a sound run in its own noise is some tenths. [judgement]
const TOGETHER_V: f64 = 1.0;
/// A second source's wave, rms. [judgement]
const SECOND_V: f64 = 1.0;
/// Under the load so much of a supply is left at least: 47 kΩ beside a transformer is nothing. [judgement]
const STAYS: f64 = 0.97;
/// A pair with less bias than this has none. [judgement]
const NO_BIAS_V: f64 = 0.05;
/// Both lines stand so far from common where something biases them, though it be shorted. [judgement]
const STANDS_V: f64 = 0.5;
/// A wave that is turned so much against the supply's is another source's: its sine. [judgement]
const TURNED: f64 = 0.25;

/// What is held, for all findings.
pub(super) struct Held<'a> {
    pub(super) seen: &'a Seen,
    pub(super) sheet: &'a LimitSheet,
    pub(super) floating: &'a [Post],
    pub(super) supply: Option<&'a LiveSupply>,
    pub(super) pair: Option<&'a LivePair>,
    pub(super) conductors: &'a [LiveConductor],
}

pub(super) fn findings(held: &Held<'_>) -> Vec<LiveFinding> {
    let mut found = vec![];
    held.hazard(&mut found);
    held.all_together(&mut found);
    held.second_source(&mut found);
    held.floating(&mut found);
    held.supply(&mut found);
    held.pair(&mut found);
    for conductor in held.conductors {
        held.conductor(&mut found, conductor);
    }
    if let Err(cause) = held.seen.whole {
        found.push(LiveFinding::because(cause));
    }
    found.sort_by_key(|one| (one.severity, one.kind));
    found
}

impl Held<'_> {
    fn hazard(&self, found: &mut Vec<LiveFinding>) {
        let hazards = hazards(self.seen);
        let Some(most) = hazards.first() else { return };
        let alone_v = most.alternating_v.zip(most.direct_v).map(|(a, d)| a.hypot(d));
        let collapses =
            most.loaded_v.zip(alone_v).is_some_and(|(loaded, alone)| loaded <= COUPLED * alone);
        let severity = if collapses { Severity::CannotTell } else { Severity::Fail };
        let mut finding = LiveFinding::new(Kind::Hazard, severity);
        let mut posts: Vec<Post> =
            hazards.iter().flat_map(|one| [one.posts.0, one.posts.1]).collect();
        posts.sort();
        posts.dedup();
        finding.conductors = posts.iter().filter_map(|post| self.name_of(*post)).collect();
        finding.posts = posts;
        let alternates = most.alternating_v.zip(most.direct_v).map(|(a, d)| a >= d);
        finding.unit =
            alternates.map(|ac| if ac { LiveUnit::VoltRms } else { LiveUnit::VoltDirect });
        finding.value = alternates
            .and_then(|ac| if ac { most.alternating_v } else { most.direct_v })
            .filter(|value| value.is_finite());
        finding.loaded = most.loaded_v.filter(|value| value.is_finite());
        found.push(finding);
    }

    fn name_of(&self, post: Post) -> Option<ConductorName> {
        self.sheet.conductors.iter().find(|one| one.post == post).map(|one| one.name)
    }

    fn all_together(&self, found: &mut Vec<LiveFinding>) {
        let Some(together) = self.seen.together_v.filter(|one| one.value > TOGETHER_V) else {
            return;
        };
        let mut finding = LiveFinding::new(Kind::AllMoveTogether, Severity::CannotTell);
        finding.conductors = self.sheet.conductors.iter().map(|one| one.name).collect();
        finding.posts = self.sheet.conductors.iter().map(|one| one.post).collect();
        finding.loaded = Some(together.value);
        found.push(told(finding, together, LiveUnit::VoltRms));
    }

    /// Of another frequency, on whatever conductor; what couples in only is a remark.
    fn second_source(&self, found: &mut Vec<LiveFinding>) {
        let (Some(hertz), Some(against)) =
            (self.seen.waves.second_hertz, conductors::against(self.sheet))
        else {
            return;
        };
        let wave = |window: &super::window::Window, post: Post| {
            let n = window.frequencies.len().checked_sub(1)?;
            Some(rms(&window.wave((post, against), n)?))
        };
        let alone = |post: Post| wave(&self.seen.alone, post).unwrap_or(0.0);
        let loaded = |post: Post| wave(&self.seen.loaded, post).unwrap_or(f64::INFINITY);
        let on = self.sheet.conductors.iter().filter(|one| alone(one.post) > SECOND_V);
        let on: Vec<_> = on.collect();
        let stays = on.iter().any(|one| loaded(one.post) > COUPLED * alone(one.post));
        let severity = if stays { Severity::Fail } else { Severity::Note };
        let mut finding = LiveFinding::new(Kind::SecondSource, severity);
        finding.conductors = on.iter().map(|one| one.name).collect();
        finding.posts = on.iter().map(|one| one.post).collect();
        finding.value = Some(hertz);
        finding.unit = Some(LiveUnit::Hertz);
        found.push(finding);
    }

    fn floating(&self, found: &mut Vec<LiveFinding>) {
        let pair = pair::posts(self.sheet);
        let both =
            pair.is_some_and(|(a, b)| [a, b].iter().all(|post| self.floating.contains(post)));
        for post in self.floating {
            let Some(name) = self.name_of(*post) else { continue };
            let kind = match name {
                ConductorName::Common => Kind::CommonMissing,
                ConductorName::Supply => continue, // no supply
                _ if both => continue,             // the pair is not biased
                _ => Kind::Floats,
            };
            let mut finding = LiveFinding::new(kind, Severity::Fail);
            finding.conductors = vec![name];
            finding.posts = vec![*post];
            found.push(finding);
        }
    }

    fn supply(&self, found: &mut Vec<LiveFinding>) {
        let (Some(supply), Some(posts)) = (self.supply, supply::posts(self.sheet)) else { return };
        let finding = |kind, severity| {
            let mut finding = LiveFinding::new(kind, severity);
            finding.conductors = vec![ConductorName::Supply, ConductorName::Common];
            finding.posts = vec![posts.0, posts.1];
            finding.loaded = supply.loaded_rms_v.map(|loaded| loaded.value);
            let direct = supply.kind == SupplyKind::Direct || supply.kind == SupplyKind::FullWave;
            match (supply.direct_v.filter(|_| direct), supply.rms_v) {
                (Some(direct), _) => told(finding, direct, LiveUnit::VoltDirect),
                (None, Some(rms)) => told(finding, rms, LiveUnit::VoltRms),
                (None, None) => finding,
            }
        };
        let judged = self.sheet.live.supply.is_some();
        match supply.reason {
            LiveReason::Nothing | LiveReason::CouplesIn => {
                let severity = if judged { Severity::Fail } else { Severity::CannotTell };
                found.push(finding(Kind::NoSupply, severity));
            }
            LiveReason::OtherKind => found.push(finding(Kind::OtherSupply, Severity::Fail)),
            LiveReason::BelowLimit => found.push(finding(Kind::LowSupply, Severity::Fail)),
            LiveReason::AboveLimit => found.push(finding(Kind::HighSupply, Severity::Fail)),
            LiveReason::TooCloseToLimit => {
                found.push(finding(Kind::TooCloseToLimit, Severity::CannotTell));
            }
            LiveReason::LimitUnknown => {
                found.push(finding(Kind::LimitUnknown, Severity::CannotTell))
            }
            LiveReason::NotMeasured if self.floating.contains(&posts.1) => {
                found.push(LiveFinding::because(LiveCause::CommonMissing));
            }
            LiveReason::NotMeasured if supply.rms_v.is_some() && supply.loaded_rms_v.is_some() => {
                found.push(LiveFinding::because(LiveCause::Unexplained));
            }
            LiveReason::WithinLimits => self.supply_noted(found, supply, &finding),
            _ => {}
        }
        let gives_way = supply
            .rms_v
            .zip(supply.loaded_rms_v)
            .is_some_and(|(alone, loaded)| loaded.most() < STAYS * alone.least());
        if gives_way && !matches!(supply.kind, SupplyKind::None | SupplyKind::Unknown) {
            found.push(finding(Kind::SupplyGivesWay, Severity::Fail));
        }
    }

    fn supply_noted(
        &self,
        found: &mut Vec<LiveFinding>,
        supply: &LiveSupply,
        finding: &dyn Fn(Kind, Severity) -> LiveFinding,
    ) {
        let (Some(noted), Some(rms)) = (&self.sheet.live.supply_noted, supply.rms_v) else {
            return;
        };
        if rms.value < noted.least {
            found.push(finding(Kind::LowSupply, Severity::Note));
        } else if rms.value > noted.most {
            found.push(finding(Kind::HighSupply, Severity::Note));
        }
    }

    fn pair(&self, found: &mut Vec<LiveFinding>) {
        let Some(pair) = self.pair else { return };
        let finding = |kind, severity| {
            let mut finding = LiveFinding::new(kind, severity);
            finding.posts = pair.posts.into();
            finding.conductors = pair.posts.iter().filter_map(|post| self.name_of(*post)).collect();
            finding.loaded = pair.loaded_bias_v.map(|loaded| loaded.value);
            match pair.bias_v {
                Some(bias) => told(finding, bias, LiveUnit::VoltDirect),
                None => finding,
            }
        };
        match pair.reason {
            LiveReason::Reversed => found.push(finding(Kind::ReversedPair, Severity::Fail)),
            // One leg alone is told as such.
            LiveReason::Floats if pair.posts.iter().any(|post| !self.floating.contains(post)) => {}
            LiveReason::Floats | LiveReason::CouplesIn => {
                found.push(finding(Kind::PairNotBiased, Severity::Fail));
            }
            LiveReason::BelowLimit => {
                let kind = if self.something_biases(pair) {
                    Kind::PairLoaded
                } else {
                    Kind::PairNotBiased
                };
                found.push(finding(kind, Severity::Fail));
            }
            LiveReason::Undecided => {
                found.push(finding(Kind::TooCloseToLimit, Severity::CannotTell))
            }
            LiveReason::LimitUnknown => {
                found.push(finding(Kind::LimitUnknown, Severity::CannotTell))
            }
            LiveReason::Busy => found.push(LiveFinding::because(LiveCause::Busy)),
            LiveReason::AboveLimit => {
                found.push(finding(Kind::PairAboveRange, Severity::CannotTell))
            }
            _ => {}
        }
    }

    /// A bias that is too small, or none between the lines while both stand off common: loaded or shorted.
    fn something_biases(&self, pair: &LivePair) -> bool {
        let biased = pair.bias_v.is_some_and(|bias| bias.value.abs() > NO_BIAS_V);
        let stand =
            self.conductors.iter().filter(|one| pair.posts.contains(&one.post)).all(|one| {
                one.loaded_direct_v.is_some_and(|direct| direct.value.abs() - direct.u > STANDS_V)
            });
        biased || stand
    }

    fn conductor(&self, found: &mut Vec<LiveFinding>, conductor: &LiveConductor) {
        if !matches!(conductor.name, ConductorName::DataPlus | ConductorName::DataMinus) {
            return;
        }
        let finding = |kind, severity| {
            let mut finding = LiveFinding::new(kind, severity);
            finding.conductors = vec![conductor.name];
            finding.posts = vec![conductor.post];
            finding
        };
        let alternates = |finding: LiveFinding| {
            let mut finding = match conductor.alternating_rms_v {
                Some(alone) => told(finding, alone, LiveUnit::VoltRms),
                None => finding,
            };
            finding.loaded = conductor.loaded_alternating_rms_v.map(|loaded| loaded.value);
            finding
        };
        let to_common = self.sheet.live.data_to_common.as_ref().zip(conductor.direct_v);
        let beyond = to_common.is_some_and(|(range, direct)| {
            direct.least() > range.most || direct.most() < range.least
        });
        match conductor.reason {
            LiveReason::AboveLimit | LiveReason::BelowLimit if beyond => {
                let finding = finding(Kind::BeyondReceiver, Severity::Fail);
                found.extend(conductor.direct_v.map(|v| told(finding, v, LiveUnit::VoltDirect)));
            }
            // It is told already, by its frequency.
            LiveReason::AboveLimit | LiveReason::BelowLimit
                if Self::is_second(found, conductor) => {}
            LiveReason::AboveLimit | LiveReason::BelowLimit => {
                let turned = self.turned(conductor.post);
                let kind = if turned { Kind::SecondSource } else { Kind::ForeignVoltage };
                found.push(alternates(finding(kind, Severity::Fail)));
            }
            LiveReason::TooCloseToLimit => {
                found.push(alternates(finding(Kind::TooCloseToLimit, Severity::CannotTell)));
            }
            LiveReason::LimitUnknown => {
                found.push(finding(Kind::LimitUnknown, Severity::CannotTell));
            }
            LiveReason::Floats => {
                let limit = self.sheet.live.data_alternating.as_ref().map(|range| range.most);
                let [alone_v, loaded_v] = [&self.seen.alone, &self.seen.loaded]
                    .map(|window| floats::coupled_v(window, self.floating, conductor.post));
                if limit.is_some_and(|most| alone_v > most) && loaded_v <= COUPLED * alone_v {
                    let mut finding = finding(Kind::Hum, Severity::Note);
                    finding.value = Some(alone_v);
                    finding.loaded = Some(loaded_v);
                    finding.unit = Some(LiveUnit::VoltRms);
                    found.push(finding);
                }
            }
            LiveReason::WithinLimits | LiveReason::NotMeasured => {
                let limit = self.sheet.live.data_alternating.as_ref().map(|range| range.most);
                let hums = conductor.alternating_rms_v.zip(limit);
                let hums = hums.is_some_and(|(alone, most)| alone.value > most);
                if hums && conductor.couples_in == Some(true) {
                    found.push(alternates(finding(Kind::Hum, Severity::Note)));
                }
            }
            _ => {}
        }
    }

    fn is_second(found: &[LiveFinding], conductor: &LiveConductor) -> bool {
        found
            .iter()
            .any(|one| one.kind == Kind::SecondSource && one.conductors.contains(&conductor.name))
    }

    /// Its wave is turned against the supply's: no wire from the supply makes that.
    fn turned(&self, post: Post) -> bool {
        let (Some(against), Some(supply)) =
            (conductors::against(self.sheet), supply::posts(self.sheet))
        else {
            return false;
        };
        let fundamental = self.seen.waves.harmonics.first() == Some(&1);
        let window = &self.seen.loaded;
        let waves = window.wave((post, against), 0).zip(window.wave(supply, 0));
        fundamental
            && waves.is_some_and(|(a, b)| {
                let across = a[0] * b[1] - a[1] * b[0];
                across.abs() > TURNED * a[0].hypot(a[1]) * b[0].hypot(b[1])
            })
    }
}

fn told(mut finding: LiveFinding, measured: Measured, unit: LiveUnit) -> LiveFinding {
    finding.value = Some(measured.value);
    finding.u = Some(measured.u).filter(|u| u.is_finite());
    finding.unit = Some(unit);
    finding
}
