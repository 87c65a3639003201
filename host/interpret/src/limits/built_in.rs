//! The sheets that come with the program.

/// Name and text, the one that is used where none is named first.
pub const BUILT_IN: [(&str, &str); 6] = [
    ("service-24vac", include_str!("../sheets/service-24vac.toml")),
    ("acceptance-24vac", include_str!("../sheets/acceptance-24vac.toml")),
    ("service-12vdc", include_str!("../sheets/service-12vdc.toml")),
    ("two-wire-bus", include_str!("../sheets/two-wire-bus.toml")),
    ("made-up-lead", include_str!("../sheets/made-up-lead.toml")),
    ("reel", include_str!("../sheets/reel.toml")),
];

#[cfg(test)]
mod tests {
    use runproof_protocol::Post;

    use super::BUILT_IN;
    use crate::limits::{Arrangement, ConductorName, LimitSheet};

    #[test]
    fn each_reads_and_has_the_name_it_is_listed_by() {
        for (name, text) in BUILT_IN {
            let sheet = LimitSheet::read(text).map_err(|error| format!("{name}: {error}"));
            assert_eq!(sheet.map(|sheet| sheet.name).as_deref(), Ok(name));
        }
        assert_eq!(LimitSheet::built_in("none-such"), None);
    }

    #[test]
    fn the_service_sheet_is_what_it_was_agreed_to_be() {
        let sheet = LimitSheet::service_24vac();
        assert_eq!(sheet.conductors.iter().map(|one| one.post).collect::<Vec<_>>(), Post::ALL);
        assert_eq!(sheet.post_of(ConductorName::Supply), Some(Post::P4));
        let ohm =
            |limit: &super::super::ConductorLimits| limit.resistance.as_ref().map(|l| l.value);
        let limits: Vec<_> = sheet.conductors.iter().map(ohm).collect();
        assert_eq!(limits, [50.0, 50.0, 3.0, 3.0].map(Some));
        assert_eq!((sheet.leakage.note_below.value, sheet.leakage.fail_below.value), (1e6, 1e5));
    }

    #[test]
    fn the_two_wire_sheet_limits_nothing_but_the_loop() {
        let sheet = LimitSheet::built_in("two-wire-bus").expect("built in");
        assert_eq!(sheet.arrangement, Arrangement::TwoWire);
        assert!(sheet.conductors.iter().all(|one| one.resistance.is_none()));
        assert_eq!(sheet.loop_resistance.map(|limit| limit.value), Some(10.0));
    }
}
