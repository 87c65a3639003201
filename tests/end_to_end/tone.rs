//! What the computer sounds while a run is flexed: by the real sound player into a file, the heights in it by Goertzel's algorithm.

use std::f64::consts::TAU;
use std::path::Path;
use std::process::Command;

use crate::program::{Ran, folder, runproof_under};

const RATE_HERTZ: f64 = 48_000.0;

/// A fiftieth of a second: whole turns of all that is looked for.
const WINDOW: usize = 960;

/// A sound card that writes down what it plays.
const CARD: &str = "pcm.!default { type file file heard.raw format raw slave.pcm { type null } }\n";

/// Runs the program in a folder with this sound card; the player's paths take no spaces.
fn with_card(folder: &Path, card: &str, arguments: &[&str]) -> Ran {
    std::fs::write(folder.join("asound.conf"), card).expect("written");
    let here = folder.to_str().expect("UTF-8");
    runproof_under(&["env", "-C", here, "ALSA_CONFIG_PATH=asound.conf"], arguments)
}

/// The share of a window's power that is at this height.
fn share(window: &[f64], hertz: f64) -> f64 {
    let (mut real, mut imaginary, mut power) = (0.0, 0.0, 0.0);
    for (n, sample) in window.iter().enumerate() {
        let turned = TAU * hertz * n as f64 / RATE_HERTZ;
        real += sample * turned.cos();
        imaginary += sample * turned.sin();
        power += sample * sample;
    }
    2.0 * (real * real + imaginary * imaginary) / (power * window.len() as f64)
}

/// Of each loud window, at what height it is, if at one of these.
fn heights(raw: &[u8]) -> Vec<Option<u32>> {
    let samples: Vec<f64> =
        raw.chunks_exact(2).map(|two| f64::from(i16::from_le_bytes([two[0], two[1]]))).collect();
    let loud = |window: &&[f64]| window.iter().map(|one| one * one).sum::<f64>() > 1e9;
    let height = |window: &[f64]| {
        [250, 350, 1_200, 2_500].into_iter().find(|hertz| share(window, f64::from(*hertz)) > 0.9)
    };
    samples.chunks_exact(WINDOW).filter(loud).map(height).collect()
}

/// Of a watch of this scene.
fn heard(scene: &str, arguments: &[&str]) -> (Vec<Option<u32>>, f64) {
    let folder = folder(&format!("tone of {scene}"));
    let watch = ["flex", "--simulate", scene, "--yes", "--no-record", "--tone", "--for", "4s"];
    let ran = with_card(&folder, CARD, &[&watch, arguments].concat());
    assert!(ran.status <= 1, "{}", ran.err);
    let raw = std::fs::read(folder.join("heard.raw")).expect("it was heard");
    (heights(&raw), raw.len() as f64 / 2.0 / RATE_HERTZ)
}

fn count(heights: &[Option<u32>], hertz: u32) -> usize {
    heights.iter().filter(|one| **one == Some(hertz)).count()
}

#[test]
fn ticks_are_heard_while_all_carry() {
    let (heights, lasts_s) = heard("flex-good", &[]);
    assert!((3.0..8.0).contains(&lasts_s), "{lasts_s} s");
    // Two ticks of 0.1 s in 4 s.
    assert!((6..=15).contains(&count(&heights, 1_200)), "{heights:?}");
    assert_eq!(count(&heights, 2_500) + count(&heights, 250) + count(&heights, 350), 0);
}

#[test]
fn a_break_is_high_and_a_touch_low_and_rough() {
    let (heights, _) = heard("flex-blower", &[]);
    assert!(count(&heights, 2_500) > 50, "{heights:?}");
    assert_eq!(count(&heights, 250) + count(&heights, 350), 0, "{heights:?}");
    let (heights, _) = heard("flex-staple", &["--shorts"]);
    assert!(count(&heights, 250) > 3 && count(&heights, 350) > 3, "{heights:?}");
    assert_eq!(count(&heights, 2_500), 0, "{heights:?}");
}

/// Before anybody has clipped anything on.
#[test]
fn a_computer_that_does_not_sound_says_so() {
    let watch = ["flex", "--simulate", "flex-good", "--yes", "--no-record", "--tone"];
    let no_player = Command::new(env!("CARGO_BIN_EXE_runproof"))
        .args(watch)
        .env("PATH", folder("no player"))
        .output()
        .expect("the program starts");
    let told = String::from_utf8_lossy(&no_player.stderr).into_owned();
    assert_eq!(no_player.status.code(), Some(64), "{told}");
    assert!(told.contains("does not sound") && told.contains("alsa-utils"), "{told}");
    assert!(!told.contains("clips"), "{told}");
    let no_card = "pcm.!default { type hw card 99 }\n";
    let no_card = with_card(&folder("no sound card"), no_card, &watch);
    assert_eq!(no_card.status, 64, "{}", no_card.err);
    assert!(no_card.err.contains("audio open error"), "{}", no_card.err);
}
