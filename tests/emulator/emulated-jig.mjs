// The unmodified image on its chip, wired to a simulated bench and to a USB host.
import { GPIOPinState } from 'rp2040js';
import { connectBus } from './bench/bus.mjs';
import { connectFollowers } from './bench/followers.mjs';
import { connectInputs } from './bench/inputs.mjs';
import { connectOutputs } from './bench/outputs.mjs';
import { PINS } from './bench/pins.mjs';
import { startChip } from './chip.mjs';
import { describeAddress } from './elf.mjs';
import { runSlice } from './run.mjs';
import { UsbHost } from './usb/host.mjs';

export class EmulatedJig {
  #elf;

  /** `received(bytes, next)`: see UsbHost. `trouble(chip)`: what is wrong with the bus, see connectBus. */
  constructor({ elf, world, received, trouble }) {
    this.#elf = elf;
    this.chip = startChip(elf);
    this.host = new UsbHost(this.chip, received);
    connectOutputs(this.chip, world);
    connectInputs(this.chip, world);
    connectFollowers(this.chip, world);
    connectBus(this.chip, world, trouble?.(this.chip));
  }

  get nanos() {
    return this.chip.clock.nanos;
  }

  /** Whether nothing is driven, and both coils are off. */
  get released() {
    const all = (pins, state) => pins.every((pin) => this.chip.gpio[pin].value === state);
    return all([...PINS.drives, ...PINS.pulls], GPIOPinState.Input) && all([PINS.relays, PINS.load], GPIOPinState.Low);
  }

  /** Runs a slice; returns how long the chip would sleep, in ns, or 0 if it has more to do. */
  run() {
    try {
      return runSlice(this.chip, () => this.released);
    } catch (error) {
      const { PC, LR } = this.chip.core;
      const seconds = (this.nanos / 1e9).toFixed(6);
      error.message += `\n  at ${describeAddress(this.#elf, PC)}, called from ${describeAddress(this.#elf, LR & ~1)}`;
      error.message += `, ${seconds} s after power-up`;
      throw error;
    }
  }
}
