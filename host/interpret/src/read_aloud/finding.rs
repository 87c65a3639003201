//! The first finding of a check or of a test to earth, as a code tells it.

use serde::Serialize;

use super::CodeError;
use super::amount::Amount;
use super::numbers::Known;
use super::order::Posts;
use super::packing::Walk;
use crate::judgement::{Cause, ExplainsComplaint, Finding, FindingKind, Severity};

/// The gravest finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct SpokenFinding {
    /// What; absent where nothing was found.
    pub kind: Option<Known<FindingKind>>,
    /// Why it could not be told.
    pub cause: Option<Known<Cause>>,
    /// What it means.
    pub severity: Severity,
    /// Whether it would explain why someone was called.
    pub explains_complaint: ExplainsComplaint,
    /// Whom it concerns.
    pub posts: Posts,
    /// Its number.
    pub amount: Amount,
    /// There are more findings than this one.
    pub more: bool,
}

impl SpokenFinding {
    /// Of all findings, the gravest first.
    pub(super) fn of(findings: &[Finding]) -> Self {
        let first = findings.first();
        Self {
            kind: first.map(|one| Known::Value(one.kind)),
            cause: first.and_then(|one| one.cause).map(Known::Value),
            severity: first.map_or(Severity::Note, |one| one.severity),
            explains_complaint: first
                .map_or(ExplainsComplaint::Possibly, |one| one.explains_complaint),
            posts: Posts::of(first.map_or(&[], |one| &one.posts)),
            amount: first.map_or(Amount::None, |one| {
                Amount::of(one.value, one.unit, one.kind == FindingKind::Hazard)
            }),
            more: findings.len() > 1,
        }
    }

    pub(super) fn walk(told: Option<&Self>, walk: &mut impl Walk) -> Result<Self, CodeError> {
        Ok(Self {
            kind: walk.field("finding", told.map(|told| &told.kind))?,
            cause: walk.field("its cause", told.map(|told| &told.cause))?,
            severity: walk.field("its severity", told.map(|told| &told.severity))?,
            explains_complaint: walk
                .field("whether it explains", told.map(|told| &told.explains_complaint))?,
            posts: walk.field("its posts", told.map(|told| &told.posts))?,
            amount: walk.field("its number", told.map(|told| &told.amount))?,
            more: walk.field("more findings", told.map(|told| &told.more))?,
        })
    }
}
