// Lets the chip run: instructions while it works, jumps of simulated time while it waits.
const SLICE_INSTRUCTIONS = 50_000;
/** Longer than any pause between two looks with nothing driven. */
const IDLE_WAIT_NANOS = 5e6;

/**
 * Runs one slice; returns how long the chip would sleep for want of something to do, in ns (Infinity: for ever), or 0
 * if it has more to do, or if its clock shows `until`. `resting()` says whether it drives nothing: what it waits for then is somebody.
 */
export function runSlice(chip, resting, until = Infinity) {
  const { core, clock } = chip;
  const cycleNanos = 1e9 / chip.clkSys;
  for (let left = SLICE_INSTRUCTIONS; left > 0; left--) {
    if (!core.waiting) {
      clock.tick(core.executeInstruction() * cycleNanos);
      if (clock.nanos >= until) return 0;
      continue;
    }
    const wait = clock.nextAlarm ? clock.nanosToNextAlarm : Infinity;
    if (wait === Infinity || (wait > IDLE_WAIT_NANOS && resting())) return wait;
    clock.tick(Math.min(wait, Math.max(until - clock.nanos, 0)));
    if (clock.nanos >= until) return 0;
  }
  return 0;
}
