//! Hum that is no fault of its conductor: one remark, whomever it is on.

use super::super::floats;
use super::super::supply::COUPLED;
use super::Held;
use crate::judgement::{
    Activity, LiveConductor, LiveFinding, LiveFindingKind as Kind, LiveReason, LiveUnit,
};
use crate::limits::Severity;

/// Less is not worth a word: a tenth of what may alternate there. [judgement]
const WORTH: f64 = 0.1;

impl Held<'_> {
    pub(super) fn hum(&self, found: &mut Vec<LiveFinding>) {
        let hums = |one: &LiveConductor| Some((one.name, one.post, self.hum_of(one)?));
        let hums: Vec<_> = self.conductors.iter().filter_map(hums).collect();
        let most = hums.iter().map(|(.., volts)| *volts).max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((alone_v, loaded_v)) = most else { return };
        let mut finding = LiveFinding::new(Kind::Hum, Severity::Note);
        finding.conductors = hums.iter().map(|(name, ..)| *name).collect();
        finding.posts = hums.iter().map(|(_, post, _)| *post).collect();
        (finding.value, finding.unit) = (Some(alone_v), Some(LiveUnit::VoltRms));
        finding.loaded = loaded_v;
        found.push(finding);
    }

    /// What couples in, and what is left of it under the load, where that is less.
    fn hum_of(&self, conductor: &LiveConductor) -> Option<(f64, Option<f64>)> {
        let limit = self.sheet.live.data_alternating.as_ref()?;
        match conductor.alternating?.reason {
            LiveReason::Floats => {
                let [alone_v, loaded_v] = [&self.seen.alone, &self.seen.loaded]
                    .map(|window| floats::coupled_v(window, &self.floating.posts, conductor.post));
                let couples = alone_v > limit.most && loaded_v <= COUPLED * alone_v;
                couples.then_some((alone_v, Some(loaded_v)))
            }
            // While someone sends, what alternates is some of that.
            LiveReason::WithinLimits
                if self.pair.is_some_and(|pair| pair.activity == Activity::Idle) =>
            {
                let alone = conductor.alternating_rms_v?;
                let loaded_v = conductor.loaded_alternating_rms_v.map(|loaded| loaded.value);
                let less = loaded_v.filter(|loaded_v| *loaded_v < alone.value);
                (alone.least() > WORTH * limit.most).then_some((alone.value, less))
            }
            _ => None,
        }
    }
}
