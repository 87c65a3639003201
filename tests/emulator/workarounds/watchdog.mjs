// A watchdog that fires, or is told to, restarts the chip: left alone, the emulator calls its handler for ever.
import { ChipRestart } from './chip-restart.mjs';

const WATCHDOG = 0x40058;

export function watchdog(chip) {
  chip.peripherals[WATCHDOG].onWatchdogTrigger = () => {
    throw new ChipRestart('the watchdog restarts the chip');
  };
}

/** What it knows from one start to the next: its scratch registers, and why the chip restarted. */
export function keepWatchdog(from, to) {
  const { scratchData, reason } = from.peripherals[WATCHDOG];
  Object.assign(to.peripherals[WATCHDOG], { scratchData, reason });
}
