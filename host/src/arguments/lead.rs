//! Arguments of `lead`.

use clap::Args;
use runproof_interpret::RunKnowledge;
use runproof_interpret::copper::{CelsiusRange, Gauge, Length};

use crate::guide::lead::Way;

#[derive(Debug, Args)]
pub(crate) struct Lead {
    /// Use a simulated jig, and an operator who plugs in a box of simulated leads of 18awg and 5.5ft: `leads`
    #[arg(long, value_name = "SESSION", conflicts_with = "port")]
    pub(crate) simulate: Option<String>,

    /// Seed of the simulated jig, the leads and the operator's hands
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "simulate")]
    pub(crate) seed: u64,

    /// How many simulated fixtures the operator works at
    #[arg(long, value_name = "COUNT", default_value_t = 1, requires = "simulate", value_parser = fixtures)]
    pub(crate) fixtures: usize,

    /// By the jig's clips and the tail's, whose key stays in, in place of a fixture: end A, and at the tone end B; slower
    #[arg(long)]
    pub(crate) clips: bool,

    /// Use the jig on this serial port; once for each fixture; without it, the one that is attached
    #[arg(long, value_name = "PATH")]
    pub(crate) port: Vec<String>,

    /// Size of the leads' conductors, such as 18awg or 0.75mm2-stranded
    #[arg(long, value_name = "SIZE")]
    pub(crate) gauge: Option<Gauge>,

    /// Length of a lead, such as 5.5ft or 1.7m
    #[arg(long, value_name = "LENGTH")]
    pub(crate) length: Option<Length>,

    /// How warm the leads are, such as 20C or 15..25C; unless told, 15 to 30 °C, as in a shop
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true)]
    pub(crate) cable_temp: Option<CelsiusRange>,

    /// The lot that they are units of, as it was opened with `runproof lot open --every-unit --sheet made-up-lead`
    #[arg(long, value_name = "LOT")]
    pub(crate) lot: Option<String>,

    /// The number of the first lead, or the first free one after it
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(crate) from: u32,

    /// End after so many leads; a simulated session after 20 unless told
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..))]
    pub(crate) count: Option<u32>,

    /// Take the lead back that was tested last: its record counts no more, and its number is used again
    #[arg(long, conflicts_with_all = ["simulate", "port", "count", "clips"])]
    pub(crate) undo: bool,

    /// Who tests
    #[arg(long, value_name = "TEXT", env = "RUNPROOF_OPERATOR", hide_env_values = true)]
    pub(crate) operator: Option<String>,

    /// Print a line of JSON of each lead instead of words
    #[arg(long)]
    pub(crate) json: bool,
}

impl Lead {
    pub(crate) fn way(&self) -> Way {
        if self.clips { Way::Clips } else { Way::Fixture }
    }

    /// What is known of every lead.
    pub(crate) fn told(&self) -> RunKnowledge {
        RunKnowledge {
            gauge: self.gauge,
            length: self.length,
            temperature: self.cable_temp.unwrap_or_else(in_a_shop),
            lifted: true,
            ..RunKnowledge::default()
        }
    }
}

/// Leads that lie on a bench indoors. (judgement)
fn in_a_shop() -> CelsiusRange {
    "15..30C".parse().unwrap_or_default()
}

fn fixtures(told: &str) -> Result<usize, String> {
    let count = told.parse().ok().filter(|count| (1..=4).contains(count));
    count.ok_or_else(|| "one person works at 1 to 4 fixtures".into())
}
