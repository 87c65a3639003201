//! A powered run at the engine: looked at, and nothing else.

use runproof_protocol::{Drive, Event, HazardKind, Pattern, Phase, Range};

use crate::host::Host;
use crate::{done, hazard, scene};

/// Whatever is on it, a live run is read to its end: the relays stay open, nothing is driven, and no hazard is
/// latched. A reading beyond the narrow range is taken on the wide one from the next pattern on.
#[test]
fn a_live_run_is_only_looked_at() {
    for name in ["live-good", "powered-run", "live-mains-on-data", "live-industrial-mains"] {
        let mut host = Host::on(scene(name), 1);
        host.measure(Phase::Live);
        assert!(done(&host), "{name}: {:?}", host.events.last());
        let patterns: Vec<_> = host.events.iter().filter_map(pattern_of).collect();
        assert_eq!(patterns.len(), 12, "{name}");
        let off = |pattern: &&Pattern| pattern.drives == [Drive::Off; 4] && !pattern.relays_closed;
        assert!(patterns.iter().all(off), "{name}");
        let ranges: Vec<_> = patterns.iter().map(|one| one.readings[0].range).collect();
        let beyond = name.contains("mains");
        assert_eq!(ranges[0], Range::V0, "{name}");
        assert_eq!(ranges[1], if beyond { Range::V2 } else { Range::V0 }, "{name}: {ranges:?}");
        host.events.clear();
        host.measure(Phase::Live);
        assert!(done(&host), "{name}: it latched");
    }
}

/// What drives posts looks first, as ever.
#[test]
fn a_live_run_is_not_zeroed() {
    let mut host = Host::on(scene("powered-run"), 1);
    host.measure(Phase::LiveZero);
    assert_eq!(hazard(&host).map(|(kind, _)| kind), Some(HazardKind::BeforeClosing));
    assert!(host.jig.released());
}

fn pattern_of(event: &Event) -> Option<&Pattern> {
    match event {
        Event::Pattern(pattern) => Some(pattern),
        _ => None,
    }
}
