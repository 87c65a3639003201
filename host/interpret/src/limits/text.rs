//! A limit sheet as it stands in its text: every value with its place.

use serde::Deserialize;
use toml::Spanned;

use super::{Arrangement, ConductorName, DecisionRule, LimitUnit, SupplyForm};
use super::{ExplainsComplaint, Severity};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Sheet {
    pub(super) name: Spanned<String>,
    pub(super) version: Spanned<String>,
    pub(super) about: String,
    pub(super) arrangement: Spanned<Arrangement>,
    pub(super) decision_rule: DecisionRule,
    pub(super) contact_mohm: Spanned<[f64; 2]>,
    pub(super) sibling_spread: Spanned<f64>,
    pub(super) conductor: Vec<Spanned<Conductor>>,
    pub(super) beyond_wire: Option<Spanned<Limit>>,
    pub(super) loop_resistance: Option<Spanned<Limit>>,
    pub(super) loop_of_calculated: Option<Spanned<Limit>>,
    pub(super) sibling_difference: Option<Spanned<SiblingDifference>>,
    pub(super) leakage: Leakage,
    pub(super) capacitance: Option<Bounds>,
    pub(super) maximum_length: Option<Limit>,
    pub(super) supply: Option<Supply>,
    pub(super) supply_noted: Option<Bounds>,
    pub(super) data_idle: Option<Bounds>,
    pub(super) data_undecided: Option<Bounds>,
    pub(super) data_to_common: Option<Bounds>,
    pub(super) data_alternating: Option<Bounds>,
    pub(super) control_current: Option<Quantity>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Conductor {
    pub(super) name: Spanned<ConductorName>,
    pub(super) post: Spanned<u8>,
    pub(super) resistance: Option<Spanned<Limit>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Limit {
    pub(super) value: Spanned<f64>,
    pub(super) unit: Spanned<LimitUnit>,
    pub(super) severity: Spanned<Severity>,
    pub(super) explains_complaint: ExplainsComplaint,
    pub(super) source: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SiblingDifference {
    pub(super) value: Spanned<f64>,
    pub(super) unit: Spanned<LimitUnit>,
    pub(super) or_percent: Spanned<f64>,
    pub(super) severity: Spanned<Severity>,
    pub(super) explains_complaint: ExplainsComplaint,
    pub(super) source: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Leakage {
    pub(super) note_below: Limit,
    pub(super) fail_below: Limit,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bounds {
    pub(super) least: Spanned<f64>,
    pub(super) most: Spanned<f64>,
    pub(super) unit: Spanned<LimitUnit>,
    pub(super) source: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Supply {
    pub(super) kind: Option<SupplyForm>,
    pub(super) least: Spanned<f64>,
    pub(super) most: Spanned<f64>,
    pub(super) unit: Spanned<LimitUnit>,
    pub(super) source: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Quantity {
    pub(super) value: Spanned<f64>,
    pub(super) unit: Spanned<LimitUnit>,
    pub(super) source: Spanned<String>,
}
