//! What `flex` takes.

use std::time::Duration;

use clap::{Args, ValueEnum};
use runproof_interpret::flex::FlexSetup;
use runproof_protocol::Phase;

use super::{About, Keep, Output, WhichJig, WhichPlug, duration};

#[derive(Debug, Args)]
pub(crate) struct Flex {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    /// Watch for conductors that touch, with the end plug out, instead of such as break. Posts 1 and 2 against 3 and 4, and
    /// 1 and 3 against 2 and 4, in turns: pairs 1–4 and 2–3 are watched all the time, the others half of it
    #[arg(
        long,
        value_enum,
        value_name = "WHICH",
        num_args = 0..=1,
        default_missing_value = "in-turns"
    )]
    pub(crate) shorts: Option<Shorts>,

    /// For so long, such as 30s, 10min or 72h; until a key or Ctrl-C unless given, of a simulated jig's own time 20s
    #[arg(long = "for", value_name = "DURATION", value_parser = duration::read_long)]
    pub(crate) during: Option<Duration>,

    /// What is told as a rise: a conductor that has so many ohms more than before, from 0.05 to 100
    #[arg(long, value_name = "OHM", default_value_t = FlexSetup::STEP_OHM, value_parser = ohms)]
    pub(crate) step: f64,

    /// Limit sheet, which says what conductor is on which post: a name from `limits`, or a file of your own
    #[arg(long, value_name = "NAME|FILE", default_value = "service-24vac")]
    pub(crate) sheet: String,

    /// A line for each thing that happens, and no screen, at a terminal too; a line that you type is a mark
    #[arg(long, conflicts_with = "json")]
    pub(crate) plain: bool,

    /// Let the computer sound as the jig does: ticks while all is well, high while a conductor is broken, low and rough while two
    /// touch, nothing while the jig is not heard. By `aplay`, which comes with alsa-utils
    #[arg(long)]
    pub(crate) tone: bool,

    /// Begin at once, without waiting for the end plug to be seen in, with --shorts out
    #[arg(long, short, conflicts_with = "wait")]
    pub(crate) yes: bool,

    /// How long to wait for that: 30s, 10min. 10min unless given; of a simulated jig's own time 20s
    #[arg(long, value_name = "DURATION", value_parser = duration::read)]
    pub(crate) wait: Option<Duration>,

    /// Clear a hazard that the jig has latched; only after you have found its source and removed it
    #[arg(long)]
    pub(crate) rearm: bool,

    #[command(flatten)]
    pub(crate) plug: WhichPlug,

    #[command(flatten)]
    pub(crate) keep: Keep,

    #[command(flatten)]
    pub(crate) output: Output,

    #[command(flatten)]
    pub(crate) about: About,
}

/// Which pairs are watched for touches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Shorts {
    /// All six: 1–4 and 2–3 all the time, the others half of it
    InTurns,
    /// Posts 1 and 2 against 3 and 4, all the time
    Across,
    /// Posts 1 and 3 against 2 and 4, all the time
    Along,
}

impl Flex {
    pub(crate) fn phase(&self) -> Phase {
        match self.shorts {
            None => Phase::Flex,
            Some(Shorts::InTurns) => Phase::FlexShorts,
            Some(Shorts::Across) => Phase::FlexAcross,
            Some(Shorts::Along) => Phase::FlexAlong,
        }
    }
}

fn ohms(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches(['Ω', ' ']).parse().ok();
    let number = number.filter(|ohms| (0.05..=100.0).contains(ohms));
    number.ok_or_else(|| "give ohms from 0.05 to 100, such as 1 or 0.5".into())
}
