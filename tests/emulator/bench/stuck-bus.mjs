// A converter caught in the middle of a byte: it holds SDA, and lets go after nine clocks.
import { GPIOPinState } from 'rp2040js';
import { PINS } from './pins.mjs';

const CLOCKS_TO_FREE = 9;

/** Held from `atNanos` on, until the chip has clocked SCL by hand. */
export class StuckBus {
  clocks = 0;
  #chip;
  #atNanos;

  constructor(chip, atNanos) {
    this.#chip = chip;
    this.#atNanos = atNanos;
    chip.gpio[PINS.scl].addListener((now, before) => {
      if (this.held && before === GPIOPinState.Low && now !== GPIOPinState.Low) this.clocks++;
    });
  }

  get held() {
    return this.#chip.clock.nanos >= this.#atNanos && this.clocks < CLOCKS_TO_FREE;
  }
}
