// A restarted chip's timer counts from zero: the emulator's reads the clock that also moves the world.
const TIMER = 0x40054;

export function timerFromZero(chip) {
  const timer = chip.peripherals[TIMER];
  const { clock } = chip;
  const startedAt = clock.nanos;
  timer.clock = {
    get nanos() {
      return clock.nanos - startedAt;
    },
  };
}
