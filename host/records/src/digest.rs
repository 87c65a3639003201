//! What tells whether two stores hold the same: a digest of all that never changes.

use sha2::{Digest as _, Sha256};

use crate::record::verdict_name;
use crate::{Detail, Record, Sheet};

/// A SHA-256.
pub type Digest = [u8; 32];

impl Record {
    /// Of all of it but what was said about it.
    #[must_use]
    pub fn digest(&self) -> Digest {
        let taken_ms = self.taken.map(|taken| taken.as_millisecond().to_string());
        let sheet = self.sheet.as_ref();
        of(&[
            Some(&self.id.to_string()),
            Some(self.kind.name()),
            taken_ms.as_deref(),
            Some(&self.zone),
            self.verdict.map(verdict_name),
            Some(&self.said),
            Some(&self.found.join(" ")),
            Some(if self.simulated { "1" } else { "0" }),
            Some(&self.jig),
            Some(&self.board),
            Some(&self.firmware),
            Some(&self.program),
            Some(&self.told),
            sheet.map(|sheet| sheet.name.as_str()),
            sheet.map(|sheet| sheet.version.as_str()),
            sheet.map(|sheet| sheet.text.as_str()),
            Some(&self.capture),
            Some(&self.result),
        ])
    }
}

impl Sheet {
    /// Of all of it.
    #[must_use]
    pub fn digest(&self) -> Digest {
        of(&[Some(&self.name), Some(&self.version), Some(&self.text)])
    }
}

impl Detail {
    /// Of all of it.
    #[must_use]
    pub fn digest(&self) -> Digest {
        of_detail(&self.id.to_string(), self.said.as_millisecond(), self.key.name(), &self.value)
    }
}

pub(crate) fn of_detail(id: &str, said_ms: i64, key: &str, value: &str) -> Digest {
    of(&[Some(id), Some(&said_ms.to_string()), Some(key), Some(value)])
}

/// Each field as its length in bytes, a colon, itself, a comma; one that is missing as `-,`. So no two lists of fields are alike.
fn of(fields: &[Option<&str>]) -> Digest {
    let mut digest = Sha256::new();
    for field in fields {
        match field {
            Some(text) => {
                digest.update(format!("{}:", text.len()));
                digest.update(text);
                digest.update(",");
            }
            None => digest.update("-,"),
        }
    }
    digest.finalize().into()
}

#[test]
fn what_stands_elsewhere_is_another_digest() {
    // `printf '1:a,-,' | sha256sum`
    let printed = "48767fe6d8f35dccdd1a14f0472d7d90d0d194aa699cd39f28fc53541a9c61f5";
    let hexadecimal =
        |digest: Digest| -> String { digest.iter().map(|byte| format!("{byte:02x}")).collect() };
    assert_eq!(hexadecimal(of(&[Some("a"), None])), printed);
    let lists: [&[Option<&str>]; 5] = [
        &[Some("a"), None],
        &[None, Some("a")],
        &[Some("a")],
        &[Some("a"), Some("")],
        &[Some("a,-,")],
    ];
    let digests: std::collections::BTreeSet<_> = lists.into_iter().map(of).collect();
    assert_eq!(digests.len(), lists.len());
}
