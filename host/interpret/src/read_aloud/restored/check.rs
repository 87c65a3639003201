//! A check or a test to earth, as it was said.

use runproof_protocol::Post;

use super::{finer, plain};
use crate::judgement::{
    COVERAGE_FACTOR, Conductor, Finding, FindingKind, Isolation, Judgement, Landing, Loop, Misses,
    Placed, Reason, Severity, SheetName, ToEarth, Unit,
};
use crate::limits::DecisionRule;
use crate::read_aloud::{
    PATHS, PoweredUp, SpokenCheck, SpokenFinding, SpokenRow, SpokenToEarth, Wires,
};

impl SpokenCheck {
    /// With what was said, and nothing else.
    #[must_use]
    pub fn judgement(&self, sheet: SheetName) -> Judgement {
        let mut judgement = Judgement { verdict: self.verdict, ..nothing(sheet) };
        match self.wires {
            Wires::Four(_) => {
                judgement.conductors = self.conductors();
            }
            Wires::Nameless => judgement.loops = vec![around(&self.rows[0])],
        }
        if self.terminals != Post::ALL {
            // By terminal, the post that its wire is on.
            let on = |terminal| {
                let mut posts = Post::ALL.into_iter().zip(self.terminals);
                posts.find(|(_, its)| *its == terminal).map_or(terminal, |(post, _)| post)
            };
            judgement.placed.clips = Some(Post::ALL.map(on));
        }
        if let Some(mut finding) = finding(&self.finding) {
            finding.supply_reaches_data = self.powered_up == PoweredUp::SupplyReachesData;
            finding.places = self.places.all();
            if let (HIGH | NEAR, [post]) = (finding.kind, finding.posts.as_slice()) {
                let its = self.rows[post.index()].ohm.map(|ohm| plain(ohm.rounded()));
                finding.value = finer(finding.value, within(&self.finding), its);
            }
            judgement.findings.push(finding);
        }
        judgement
    }

    /// A finding that is not the first, of which only the danger was said.
    #[must_use]
    pub fn beside(&self) -> Option<Finding> {
        let first = self.finding.kind.and_then(|kind| kind.value());
        let is_told = match self.powered_up {
            PoweredUp::NothingKnown => true,
            PoweredUp::SupplyReachesData => first.is_some(),
            PoweredUp::Crossed => first == Some(FindingKind::Crossed),
        };
        let mut beside = Finding::new(FindingKind::Crossed, Severity::Fail);
        beside.supply_reaches_data = self.powered_up == PoweredUp::SupplyReachesData;
        (!is_told).then_some(beside)
    }

    fn conductors(&self) -> Vec<Conductor> {
        let each = self.wires.named().map(|(name, post)| {
            let row = &self.rows[post.index()];
            Conductor {
                name,
                terminal: self.terminals[post.index()],
                post,
                reaches: row.reaches,
                verdict: row.outcome.verdict,
                reason: reason(row),
                resistance_ohm: row.ohm.map(|ohm| plain(ohm.rounded())),
                expanded_uncertainty_ohm: None,
                coverage_factor: None,
                budget: None,
                limit_ohm: None,
                limit_expanded_uncertainty_ohm: None,
                conformance: None,
            }
        });
        each.collect()
    }
}

const HIGH: FindingKind = FindingKind::HighResistance;
const NEAR: FindingKind = FindingKind::TooCloseToLimit;

impl SpokenToEarth {
    /// With what was said, and nothing else: limits are no numbers.
    #[must_use]
    pub fn judgement(&self, sheet: SheetName) -> Judgement {
        let paths = PATHS.into_iter().zip(&self.paths).filter_map(|(posts, path)| {
            let path = path.as_ref()?;
            let (resistance_ohm, at_least) = (plain(path.ohm.rounded()), path.at_least);
            Some(Isolation { posts, resistance_ohm, at_least, expanded_uncertainty_ohm: None })
        });
        let to_earth = ToEarth {
            to_metal: self.to_metal,
            to_shield: self.to_shield,
            drain: self.drain,
            bonded: self.bonded,
            contact_shown: self.contact_shown.all(),
            fail_below_ohm: f64::NAN,
            note_below_ohm: f64::NAN,
        };
        let isolation: Vec<Isolation> = paths.collect();
        let mut finding = finding(&self.finding);
        if let Some(finding) = &mut finding {
            let its = isolation.iter().find(|path| path.posts.as_slice() == finding.posts);
            let its = its.map(|path| path.resistance_ohm);
            finding.value = finer(finding.value, within(&self.finding), its);
        }
        Judgement {
            verdict: self.verdict,
            isolation,
            to_earth: Some(to_earth),
            findings: finding.into_iter().collect(),
            ..nothing(sheet)
        }
    }
}

fn finding(told: &SpokenFinding) -> Option<Finding> {
    let mut finding = Finding::new(told.kind?.value()?, told.severity);
    finding.cause = told.cause.and_then(|cause| cause.value());
    finding.explains_complaint = told.explains_complaint;
    finding.posts = told.posts.all();
    let amount = told.amount.told();
    finding.value = amount.map(|(rounded, _)| plain(rounded));
    finding.unit = amount.map(|(_, unit): (_, Unit)| unit);
    Some(finding)
}

fn within(told: &SpokenFinding) -> f64 {
    told.amount.within_percent().unwrap_or_default()
}

fn reason(row: &SpokenRow) -> Reason {
    row.outcome.reason.unwrap_or(Reason::NotMeasured)
}

fn around(row: &SpokenRow) -> Loop {
    Loop {
        posts: [Post::P1, Post::P2],
        verdict: row.outcome.verdict,
        reason: reason(row),
        resistance_ohm: row.ohm.map(|ohm| plain(ohm.rounded())),
        expanded_uncertainty_ohm: None,
        limit_ohm: f64::NAN,
        limit_expanded_uncertainty_ohm: 0.0,
        conformance: None,
    }
}

fn nothing(sheet: SheetName) -> Judgement {
    Judgement {
        verdict: crate::judgement::Verdict::CannotTell,
        conductors: vec![],
        loops: vec![],
        calculated: None,
        isolation: vec![],
        capacitance: vec![],
        looks_long: None,
        placed: Placed::default(),
        landing: Landing::NotTold,
        copper: None,
        findings: vec![],
        coverage_factor: COVERAGE_FACTOR,
        zero: None,
        decision_rule: DecisionRule::Guarded,
        sheet,
        not_tested: vec![],
        misses: Misses::UNKNOWN,
        to_earth: None,
        fit: None,
    }
}
