//! Of which metal a reel's cores are.

use serde::{Serialize, Serializer};

use crate::copper::Gauge;

/// What a second quantity beside the resistance told of the metal.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Material {
    /// Absent where length and material cannot be told apart.
    pub told: Option<Metal>,
    /// What told it.
    pub by: Vec<MaterialToldBy>,
    /// Copper of this size would read the same: the metal is told of cores as thick as declared.
    #[serde(serialize_with = "texts")]
    pub or_copper_of: Vec<Gauge>,
    /// Several quantities told something, and not the same.
    pub disagree: bool,
}

/// What a core is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Metal {
    /// All through.
    Copper,
    /// Aluminium with a skin of copper (ASTM B566, classes 10A and 15A).
    CopperCladAluminium,
}

/// What told the metal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum MaterialToldBy {
    /// Printed marks.
    Marks,
    /// Capacitance, with what a metre has.
    Capacitance,
    /// Net weight.
    Weight,
}

fn texts<S: Serializer>(gauges: &[Gauge], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(gauges.iter().map(Gauge::to_string))
}
