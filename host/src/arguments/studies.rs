//! Arguments of `repeatability` and `capability`.

use std::path::PathBuf;

use clap::{ArgGroup, Args, ValueEnum};

#[derive(Debug, Args)]
#[command(group = ArgGroup::new("from").required(true))]
pub(crate) struct Repeatability {
    /// The records of this job: each names its part with --run-name and who measured it with --operator
    #[arg(long, value_name = "TEXT", group = "from")]
    pub(crate) job: Option<String>,

    /// A CSV file with the columns part, operator and ohm, a line for each reading
    #[arg(long, value_name = "FILE", group = "from")]
    pub(crate) csv: Option<PathBuf>,

    /// Which conductor's resistance, of records
    #[arg(long, value_enum, default_value_t = WhichConductor::DataPlus)]
    pub(crate) conductor: WhichConductor,

    /// The width of the limits that the readings are for, in ohms: how much of it the gauge takes
    #[arg(long, value_name = "OHM", value_parser = ohm)]
    pub(crate) tolerance: Option<f64>,

    /// Print it as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Capability {
    /// The lot whose units were tested
    #[arg(value_name = "LOT")]
    pub(crate) lot: String,

    /// Which conductor's resistance
    #[arg(long, value_enum, default_value_t = WhichConductor::DataPlus)]
    pub(crate) conductor: WhichConductor,

    /// The part of all units that the tolerance interval holds, in percent
    #[arg(long, value_name = "PERCENT", default_value = "99%", value_parser = super::lot::chance)]
    pub(crate) part: runproof_quality::Chance,

    /// Print it as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhichConductor {
    #[value(name = "data+")]
    DataPlus,
    #[value(name = "data-")]
    DataMinus,
    Common,
    Supply,
}

impl WhichConductor {
    /// As it is in results.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::DataPlus => "data+",
            Self::DataMinus => "data-",
            Self::Common => "common",
            Self::Supply => "supply",
        }
    }
}

fn ohm(text: &str) -> Result<f64, String> {
    let number = text.trim().parse::<f64>().ok();
    number
        .filter(|ohm| ohm.is_finite() && *ohm > 0.0)
        .ok_or_else(|| "it is a number of ohms, above 0".into())
}
