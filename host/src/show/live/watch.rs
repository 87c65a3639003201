//! A live run that is watched: a line for each reading, then the least and the most.

use runproof_interpret::judgement::{LiveJudgement, Measured};

use super::super::words;

/// The least and the most of what was read so far.
#[derive(Debug, Default)]
pub(crate) struct Extremes {
    readings: usize,
    supply_v: Option<(f64, f64)>,
    bias_v: Option<(f64, f64)>,
    is_two_wires: bool,
}

impl Extremes {
    pub(crate) fn see(&mut self, judgement: &LiveJudgement) {
        self.readings += 1;
        self.is_two_wires = !words::live::has_data(judgement);
        let supply = judgement.supply.as_ref().and_then(|supply| supply.rms_v);
        let bias = judgement.pair.as_ref().and_then(|pair| pair.bias_v);
        widen(&mut self.supply_v, supply);
        widen(&mut self.bias_v, bias);
    }

    /// "7 readings; supply 24.3 to 26.4 V; data pair +0.58 to +0.61 V."
    pub(crate) fn told(&self) -> String {
        let supply =
            self.supply_v.map(|(least, most)| format!("; supply {least:.1} to {most:.1} V"));
        let what = if self.is_two_wires { "wires" } else { "data pair" };
        let bias = self.bias_v.map(|(least, most)| {
            let [least, most] = [least, most].map(|volts| words::live::sign(volts, 2));
            format!("; {what} {least} to {most} V")
        });
        let readings = if self.readings == 1 { "reading" } else { "readings" };
        format!(
            "{} {readings}{}{}.",
            self.readings,
            supply.unwrap_or_default(),
            bias.unwrap_or_default()
        )
    }
}

fn widen(range: &mut Option<(f64, f64)>, seen: Option<Measured>) {
    if let Some(Measured { value, .. }) = seen {
        let (least, most) = range.unwrap_or((value, value));
        *range = Some((least.min(value), most.max(value)));
    }
}

/// One reading on a line that fits 80 columns; what may hurt somebody instead of its numbers.
pub(crate) fn line(seconds: f64, judgement: &LiveJudgement) -> String {
    let hazard = words::live::hazard_line(judgement);
    let read = hazard.unwrap_or_else(|| numbers(judgement));
    let verdict = words::verdict(judgement.verdict);
    format!("{seconds:6.1} s  {verdict:<11}  {read}").trim_end().to_owned() + "\n"
}

fn numbers(judgement: &LiveJudgement) -> String {
    let supply = judgement.supply.as_ref().map(|supply| {
        let kind = words::live::kind_short(supply.kind);
        format!("supply {} {kind}", words::live::volts(supply.rms_v)).trim_end().to_owned()
    });
    let pair = judgement.pair.as_ref().map(|pair| {
        let bias = pair.bias_v.map_or_else(|| "not known".into(), words::live::signed_volts);
        let what = if words::live::has_data(judgement) { "pair" } else { "wires" };
        format!("{what} {bias} {}", words::live::activity_short(pair.activity))
            .trim_end()
            .to_owned()
    });
    supply.into_iter().chain(pair).collect::<Vec<_>>().join("; ")
}
