//! The image for the RP2040.
#![cfg_attr(target_os = "none", no_std, no_main)]

#[cfg(target_os = "none")]
#[embassy_executor::main]
async fn main(spawner: embassy_executor::Spawner) {
    runproof_firmware::boards::rp2040::start(spawner);
}

#[cfg(not(target_os = "none"))]
fn main() {
    eprintln!("this is a microcontroller's image: build it with tests/image");
}
