//! Tells the linker where the chip's flash and RAM are; does nothing for a computer.

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-changed=memory.x");
    if std::env::var("CARGO_CFG_TARGET_OS").as_deref() != Ok("none") {
        return;
    }
    let folder = std::env::var("CARGO_MANIFEST_DIR").expect("cargo names the package's folder");
    println!("cargo::rustc-link-search={folder}");
    let both = ["--nmagic", "-Tlink.x"];
    let rp2040 = ["-Tlink-rp.x", "-Tdefmt.x"];
    for argument in both {
        println!("cargo::rustc-link-arg-bins={argument}");
    }
    for argument in rp2040 {
        println!("cargo::rustc-link-arg-bin=rp2040={argument}");
    }
}
