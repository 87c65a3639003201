//! What `reel` takes.

use std::time::Duration;

use clap::{Args, ValueEnum};
use runproof_interpret::copper::{CelsiusRange, Gauge, NotCopper, Surface};
use runproof_interpret::reel::{Declared, Marks};

use super::{Keep, Output, WhichJig, WhichPlug, WhichZero, Whose, duration, mass};

#[derive(Debug, Args)]
pub(crate) struct Reel {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    /// Show how long this reel was whenever it was tested, and measure nothing
    #[arg(long, value_name = "ID", conflicts_with_all = ["WhichJig", "Label", "yes", "wait", "zero", "save"])]
    pub(crate) history: Option<String>,

    /// How long after the first reading the second one is taken, such as 2min: what drifts meanwhile is not yet as
    /// warm as the room. A simulated jig waits in its own time
    #[arg(long, value_name = "DURATION", value_parser = apart, default_value = "2min")]
    pub(crate) apart: Duration,

    /// How long to wait until the reel is ready for a phase before it is measured all the same: 30s, 10min. 10min
    /// unless given; of a simulated jig's own time 20s
    #[arg(long, value_name = "DURATION", value_parser = duration::read)]
    pub(crate) wait: Option<Duration>,

    /// Measure each phase at once, without waiting for the reel to be ready
    #[arg(long, short, conflicts_with = "wait")]
    pub(crate) yes: bool,

    #[command(flatten)]
    pub(crate) label: Label,

    #[command(flatten)]
    pub(crate) plug: WhichPlug,

    #[command(flatten)]
    pub(crate) zero: WhichZero,

    /// Limit sheet: a name from `limits`, or a file of your own; `reel` unless told, or the lot's with --lot
    #[arg(long, value_name = "NAME|FILE")]
    pub(crate) sheet: Option<String>,

    #[command(flatten)]
    pub(crate) keep: Keep,

    #[command(flatten)]
    pub(crate) output: Output,

    #[command(flatten)]
    pub(crate) about: Whose,
}

/// What is declared of the reel.
#[derive(Debug, Args)]
#[command(next_help_heading = "What is declared of the reel")]
pub(crate) struct Label {
    /// What you call this reel: its lengths are kept under it, for --history
    #[arg(long = "reel", value_name = "ID", value_parser = id)]
    pub(crate) id: Option<String>,

    /// Size of its cores, such as 18awg-solid, 18awg-stranded or 0.75mm2-stranded
    #[arg(long, value_name = "SIZE")]
    gauge: Option<Gauge>,

    /// Plain or tinned wires; unless told, either
    #[arg(long, value_enum, value_name = "KIND")]
    surface: Option<Covered>,

    /// What its maker states of one core at 20 °C, such as 6.39ohm/kft or 20.95ohm/km: more exact than the gauge
    #[arg(long, value_name = "OHMS", value_parser = mass::ohm_per_km)]
    ohm_per_length: Option<f64>,

    /// How far the mean of its cores may be off the gauge or that, in percent; unless told, what the standard
    /// allows, or 2 of --ohm-per-length
    #[arg(long, value_name = "PERCENT")]
    wire_tolerance: Option<f64>,

    /// How warm the copper is, such as 18..22C: without it there is no length
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true, value_parser = celsius)]
    temperature: Option<CelsiusRange>,

    /// The printed marks nearest to both ends, such as 102ft..348ft or 31..106m: the length is the difference
    #[arg(long, value_name = "MARKS")]
    marks: Option<Marks>,

    /// How far printed marks may be off, in percent; 1 unless told
    #[arg(long, value_name = "PERCENT", requires = "marks")]
    marks_tolerance: Option<f64>,

    /// The reel with its cable, such as 31.5lb or 14.3kg
    #[arg(long, value_name = "WEIGHT", value_parser = mass::kilograms, requires = "tare")]
    weight: Option<f64>,

    /// The empty reel
    #[arg(long, value_name = "WEIGHT", value_parser = mass::kilograms, requires = "weight")]
    tare: Option<f64>,

    /// What its maker states of the whole cable, such as 27lb/kft or 40kg/km: only with it can a weight show copper
    #[arg(long, value_name = "WEIGHT", value_parser = mass::kg_per_km, requires = "weight")]
    cable_weight: Option<f64>,

    /// Cores in the jacket, four of them on the posts; 4 unless told
    #[arg(long, value_name = "NUMBER", requires = "weight")]
    cores: Option<u8>,

    /// What its maker states of one core to all the others together, such as 32pF/ft or 105pF/m; of a number from core
    /// to core in a cable of four give half as much again
    #[arg(long, value_name = "CAPACITANCE", value_parser = mass::picofarad_per_m)]
    capacitance: Option<f64>,

    /// How far that may be off, in percent; 5 unless told
    #[arg(long, value_name = "PERCENT", requires = "capacitance")]
    capacitance_tolerance: Option<f64>,

    /// The inner end cannot be reached: only isolation, and a length by capacitance, can be told, and nothing passes
    #[arg(long)]
    pub(crate) buried: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Covered {
    /// Bare copper
    Plain,
    /// Tinned copper
    Tinned,
}

impl Label {
    pub(crate) fn declared(&self) -> Declared {
        Declared {
            id: self.id.clone(),
            gauge: self.gauge,
            surface: self.surface.map(|surface| match surface {
                Covered::Plain => Surface::Plain,
                Covered::Tinned => Surface::Tinned,
            }),
            ohm_per_km: self.ohm_per_length,
            wire_tolerance_percent: self.wire_tolerance,
            copper_c: self.temperature,
            marks: self.marks,
            marks_tolerance_percent: self.marks_tolerance,
            weight_kg: self.weight,
            tare_kg: self.tare,
            cable_kg_per_km: self.cable_weight,
            cores: self.cores,
            picofarad_per_m: self.capacitance,
            picofarad_tolerance_percent: self.capacitance_tolerance,
            buried: self.buried,
            before: None,
        }
    }
}

/// Warmer is no reel on a bench, but a number in another unit.
const CELSIUS_MAX: f64 = 60.0;

fn celsius(text: &str) -> Result<CelsiusRange, String> {
    if !text.chars().any(char::is_alphabetic) {
        return Err(format!("say in which unit: {}C or {0}F", text.trim()));
    }
    let range: CelsiusRange = text.parse().map_err(|error: NotCopper| error.to_string())?;
    if range.most_c() > CELSIUS_MAX {
        return Err(format!("no reel on a bench is warmer than {CELSIUS_MAX} °C; are these °F?"));
    }
    Ok(range)
}

/// In less no reel warms by what two readings can show.
const APART_LEAST: Duration = Duration::from_secs(120);

fn apart(text: &str) -> Result<Duration, String> {
    let apart = duration::read(text)?;
    if !apart.is_zero() && apart < APART_LEAST {
        return Err("2min at least, as what warms is not seen in less; or 0s, to read once".into());
    }
    Ok(apart)
}

/// Longer is none that anybody types twice.
const LETTERS_MAX: usize = 60;

fn id(text: &str) -> Result<String, String> {
    let text = text.trim();
    let fits = (1..=LETTERS_MAX).contains(&text.chars().count());
    let plain = !text.chars().any(char::is_control);
    if fits && plain { Ok(text.to_owned()) } else { Err("1 to 60 letters".into()) }
}
