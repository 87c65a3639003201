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
        let is_together = *gravest == json!("all-move-together");
        assert_eq!(is_together, scene == "live-to-earth", "{scene}: {gravest}");
    }
}

/// A jig as free as its host, at a run of which one conductor, or each, is live to earth: next to nothing stands
/// between its posts, and it must not be touched all the same.
#[test]
fn what_is_live_to_earth_is_told_by_a_check() {
    let good = scene("");
    let one_v = "[[source]]\nbetween = [2, 0]\nvolts_rms = 120.0\nthrough = { ohm = 10.0 }\n";
    let others = [1, 3, 4].map(|post| one_v.replace("[2, 0]", &format!("[{post}, 0]")));
    for (name, sources) in [("one", one_v.to_owned()), ("all", one_v.to_owned() + &others.concat())]
    {
        let scene = scene(&sources);
        let file = crate::program::folder("to earth").join(format!("{name}.toml"));
        std::fs::write(&file, scene).expect("written");
        let file = file.to_str().expect("UTF-8");
        let run = ["check", "--simulate", file, "--yes", "--touch", "never"];
        let result = runproof(&[&run[..], &["--json"]].concat()).json();
        assert_ne!(result["verdict"], "pass", "{name}");
        assert_eq!(result["findings"][0]["kind"], "all-move-together", "{name}");
        let told = runproof(&run).out;
        assert!(told.contains("DANGER"), "{told}");
        assert!(told.contains("measured to earth"), "{told}");
    }
    let file = crate::program::folder("to earth").join("good.toml");
    std::fs::write(&file, good).expect("written");
    let run = ["check", "--simulate", file.to_str().expect("UTF-8"), "--yes", "--touch", "never"];
    assert_eq!(runproof(&run).status, 0);
}

fn scene(sources: &str) -> String {
    format!(
        "about = \"live to earth\"\nplug = \"goes-in\"\n[run]\nlength_m = 30.0\nohm_per_km = 20.95\n\
         copper_c = 20.0\narrives_at = [1, 2, 3, 4]\n{sources}"
    )
}
