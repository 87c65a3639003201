// A watchdog that fires ends the run: left alone, the emulator calls its handler for ever.
import { ImageFault } from './image-fault.mjs';

const WATCHDOG = 0x40058;

export function watchdog(chip) {
  chip.peripherals[WATCHDOG].onWatchdogTrigger = () => {
    throw new ImageFault('the watchdog fired');
  };
}
