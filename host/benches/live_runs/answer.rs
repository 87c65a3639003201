//! What was said of one powered run, held against what is true.

use runproof_interpret::judgement::{
    Activity, LiveFindingKind, LiveJudgement, Measured, PairSign, SupplyKind,
};
use runproof_interpret::limits::ConductorName;

use crate::draw::{Drawn, Supply, Zeroed};

/// A receiver's threshold: TIA/EIA-485-A.
const THRESHOLD_V: f64 = 0.2;
/// Beyond these between two posts a run is a hazard, alternating and steady.
const HAZARD_RMS_V: f64 = 30.0;
const HAZARD_DIRECT_V: f64 = 42.0;

/// A number that was told, and the true one.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Told {
    pub(crate) told: Measured,
    pub(crate) truth: f64,
}

impl Told {
    pub(crate) fn error(self) -> f64 {
        (self.told.value - self.truth).abs()
    }

    pub(crate) fn holds(self) -> bool {
        self.error() <= self.told.u
    }
}

/// Of one run.
#[derive(Clone, Debug)]
pub(crate) struct Answer {
    /// The pair's sign is told, and is another.
    pub(crate) sign_wrong: bool,
    /// It is not told although the bias lies beyond the threshold by more than what may be left open; and no line stands within
    /// U of where one that hangs on nothing does, with that said.
    pub(crate) sign_missed: bool,
    /// There is more than a control run may have, and no hazard was told.
    pub(crate) hazard_missed: bool,
    /// The other way round: there is less by a tenth, at any instant too.
    pub(crate) hazard_false: bool,
    pub(crate) kind_wrong: bool,
    pub(crate) bias: Option<Told>,
    pub(crate) supply: Option<Told>,
    pub(crate) mean: Option<Told>,
    pub(crate) hertz: Option<Told>,
    /// What stands before the jig, in ohms.
    pub(crate) source_ohm: Option<Told>,
    pub(crate) is_idle_told: bool,
    /// That a line may as well hang on nothing is told.
    pub(crate) is_held_or_open: bool,
    /// It is, and it stands farther from there than it is known.
    pub(crate) held_or_open_wrong: bool,
}

impl Answer {
    pub(crate) fn of(judgement: &LiveJudgement, drawn: &Drawn) -> Self {
        let pair = judgement.pair.as_ref();
        let sign = pair.map_or(PairSign::Undecided, |pair| pair.sign);
        let is_idle_told = pair.is_some_and(|pair| pair.activity == Activity::Idle);
        let bias_v = pair.and_then(|pair| pair.bias_v);
        let beyond = drawn.bias_v.abs() - THRESHOLD_V;
        let held_or_open = held_or_open(judgement, drawn);
        let is_at_star = held_or_open.is_some_and(|(u_v, off_v)| off_v <= u_v);
        let hazard = judgement.found(LiveFindingKind::Hazard);
        let share = (drawn.most_rms_v / HAZARD_RMS_V).max(drawn.most_direct_v / HAZARD_DIRECT_V);
        let supply = judgement.supply.as_ref();
        let kind = supply.map_or(SupplyKind::Unknown, |supply| supply.kind);
        let told = |told: Option<Measured>, truth| told.map(|told| Told { told, truth });
        let alternates = matches!(drawn.supply, Supply::Sine | Supply::HalfWave | Supply::FullWave);
        Self {
            sign_wrong: match sign {
                PairSign::Right => drawn.bias_v <= THRESHOLD_V,
                PairSign::Reversed => drawn.bias_v >= -THRESHOLD_V,
                PairSign::Undecided => false,
            },
            sign_missed: sign == PairSign::Undecided
                && is_idle_told
                && !is_at_star
                && bias_v.is_some_and(|bias| beyond > band_v(drawn.zeroed, bias.u) + 2.0 * bias.u),
            hazard_missed: share > 1.0 && !hazard,
            hazard_false: share < 0.9 && drawn.peak_v < 0.9 * HAZARD_DIRECT_V && hazard,
            kind_wrong: kind != kind_of(drawn.supply),
            bias: told(bias_v, drawn.bias_v).filter(|_| !drawn.is_busy && is_idle_told),
            supply: told(supply.and_then(|supply| supply.rms_v), drawn.supply_rms_v)
                .filter(|_| drawn.supply != Supply::None),
            mean: told(supply.and_then(|supply| supply.direct_v), drawn.supply_direct_v)
                .filter(|_| drawn.supply != Supply::None),
            hertz: told(supply.and_then(|supply| supply.hertz), drawn.hertz).filter(|_| alternates),
            source_ohm: told(
                judgement.supply_load.as_ref().and_then(|load| load.source_ohm),
                drawn.source_ohm,
            ),
            is_idle_told,
            is_held_or_open: held_or_open.is_some(),
            held_or_open_wrong: held_or_open.is_some() && !is_at_star,
        }
    }
}

/// Of the line of which it is told that it may as well hang on nothing: how well it is known where it stands, and how far that truly is
/// from where such a one would.
fn held_or_open(judgement: &LiveJudgement, drawn: &Drawn) -> Option<(f64, f64)> {
    let unsure = judgement.may_float()?;
    let line = judgement.conductors.iter().find(|one| unsure.posts.contains(&one.post))?;
    let off_v = drawn.off_star_v[usize::from(line.name == ConductorName::DataMinus)];
    Some((line.direct_v?.u, off_v))
}

/// Within this of the threshold nothing has to be told: 15 mV with a fresh zero, 20 more without.
fn band_v(zeroed: Zeroed, u_v: f64) -> f64 {
    (2.0 * u_v).max(0.015) + if zeroed == Zeroed::Fresh { 0.0 } else { 0.020 }
}

fn kind_of(supply: Supply) -> SupplyKind {
    match supply {
        Supply::Sine => SupplyKind::AlternatingMains,
        Supply::HalfWave => SupplyKind::HalfWave,
        Supply::FullWave => SupplyKind::FullWave,
        Supply::Direct => SupplyKind::Direct,
        Supply::None => SupplyKind::None,
    }
}
