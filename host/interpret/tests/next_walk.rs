//! The built-in steps: whatever is answered, in whatever order, it comes to an end.

use runproof_interpret::next::{BUILT_IN, Steps};

#[test]
fn every_way_through_the_built_in_steps_ends() {
    let steps = Steps::read(BUILT_IN).unwrap_or_else(|error| panic!("{error}"));
    println!("{} steps, {:?}", steps.steps.len(), steps.walked);
}
