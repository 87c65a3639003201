//! Powered runs, checked as if they were dead: none passes, and what stands between posts is a hazard.

use runproof_firmware::boards::simulated::LIVE;
use serde_json::json;

use crate::program::runproof;

/// At most 5 V stand between any two of their posts under the load: the look of a test says no more.
const BELOW_THE_HAZARD: [&str; 3] = ["live-no-supply", "live-ghost", "live-to-earth"];

#[test]
fn no_powered_run_passes() {
    for (scene, _) in LIVE {
        let ran = runproof(&["check", "--simulate", scene, "--yes", "--touch", "never", "--json"]);
        let result = ran.json();
        assert!(matches!(ran.status, 1 | 2), "{scene}: {}", ran.out);
        let gravest = &result["findings"][0]["kind"];
        let is_hazard = *gravest == json!("hazard");
        assert_eq!(is_hazard, !BELOW_THE_HAZARD.contains(&scene), "{scene}: {gravest}");
    }
}
