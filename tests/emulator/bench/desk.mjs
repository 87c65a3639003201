// The jig's front as a person has it: four lamps, a sounder, a key to ground.
import { GPIOPinState } from 'rp2040js';
import { PINS } from './pins.mjs';

/** The sounder's pin is output A of this slice of the PWM. */
const SOUNDER_SLICE = 1;
const ENABLED = 1;

export class Desk {
  #chip;

  constructor(chip) {
    this.#chip = chip;
    this.press(false);
  }

  press(down) {
    this.#chip.gpio[PINS.key].setInputValue(!down);
  }

  /** Which lamps of posts 1–4 are lit. */
  get lamps() {
    return PINS.lamps.map((pin) => this.#chip.gpio[pin].value === GPIOPinState.High);
  }

  /** In hertz, or 0. */
  get tone() {
    const { csr, div, top } = this.#chip.pwm.channels[SOUNDER_SLICE];
    return csr & ENABLED ? this.#chip.clkSys / (div / 16) / (top + 1) : 0;
  }
}
