//! What `jig` takes.

use clap::{Args, ValueEnum};
use runproof_protocol::Key;

use super::{Output, WhichJig};

#[derive(Debug, Args)]
pub(crate) struct Jig {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    /// Store what you call the jig; at most 24 letters
    #[arg(long, value_name = "TEXT")]
    pub(crate) name: Option<String>,

    /// Store the resistors of its end plug, in ohms, as you measured them: from post 1 to 3, 3 to 4, 4 to 2,
    /// 2 to 1, such as 33.2,47.5,68.1,150
    #[arg(long, value_name = "OHMS", value_parser = four)]
    pub(crate) plug_values: Option<[f64; 4]>,

    /// With --plug-values: what is written on it; at most 16 letters
    #[arg(
        long,
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true,
        requires = "plug_values"
    )]
    pub(crate) plug_name: String,

    /// With --plug-values: how far off they may be, in percent; 0.1 unless given
    #[arg(long, value_name = "PERCENT", requires = "plug_values")]
    pub(crate) plug_tolerance: Option<f64>,

    /// Store the jig's own series resistors with their fuses, in ohms, as you measured them, of posts 1 to 4,
    /// such as 345.7,346.2,345.9,346.4; a zero that was taken before is of no use after that
    #[arg(long, value_name = "OHMS", value_parser = four)]
    pub(crate) parts: Option<[f64; 4]>,

    /// With --parts: how far off they may be, in percent; 0.5 unless given
    #[arg(long, value_name = "PERCENT", requires = "parts")]
    pub(crate) parts_tolerance: Option<f64>,

    /// With --parts: from a sense node to the pulls' common point, both lines together, in ohms; unless given,
    /// what every jig of this design has
    #[arg(long, value_name = "OHM", requires = "parts")]
    pub(crate) parts_pull: Option<f64>,

    /// With --parts: the live divider from a post to its mid voltage; unless given, likewise
    #[arg(long, value_name = "OHM", requires = "parts")]
    pub(crate) parts_divider: Option<f64>,

    /// With --parts: from a post to its sense node, by both jaws in parallel; unless given, likewise
    #[arg(long, value_name = "OHM", requires = "parts")]
    pub(crate) parts_sense: Option<f64>,

    /// Forget what the jig keeps: after that it is as it was built
    #[arg(long, value_enum, value_name = "WHAT")]
    pub(crate) forget: Vec<Forgotten>,

    #[command(flatten)]
    pub(crate) output: Output,
}

fn four(text: &str) -> Result<[f64; 4], String> {
    let numbers: Result<Vec<f64>, _> =
        text.split(',').map(|number| number.trim().parse()).collect();
    let four = numbers.ok().and_then(|numbers| numbers.try_into().ok());
    four.ok_or_else(|| "four resistances in ohms, such as 33.2,47.5,68.1,150".into())
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Forgotten {
    /// Its zero
    Zero,
    /// The values and the name of its end plug
    Plug,
    /// What its owner calls it
    Name,
    /// The measured values of its parts
    Parts,
}

impl From<Forgotten> for Key {
    fn from(forgotten: Forgotten) -> Self {
        match forgotten {
            Forgotten::Zero => Self::Zero,
            Forgotten::Plug => Self::Plug,
            Forgotten::Name => Self::Name,
            Forgotten::Parts => Self::Parts,
        }
    }
}
