// Lets the chip run: instructions while it works, jumps of simulated time while it waits.
const SLICE_INSTRUCTIONS = 50_000;
/** Longer than any pause inside a measurement: the firmware is waiting for somebody. */
const LONG_WAIT_NANOS = 50e6;

/** Runs one slice; returns how long the chip would sleep, in ns (Infinity: for ever), or 0 if it has more to do. */
export function runSlice(chip) {
  const { core, clock } = chip;
  const cycleNanos = 1e9 / chip.clkSys;
  for (let left = SLICE_INSTRUCTIONS; left > 0; left--) {
    if (!core.waiting) {
      clock.tick(core.executeInstruction() * cycleNanos);
      continue;
    }
    const wait = clock.nextAlarm ? clock.nanosToNextAlarm : Infinity;
    if (wait > LONG_WAIT_NANOS) return wait;
    clock.tick(wait);
  }
  return 0;
}
