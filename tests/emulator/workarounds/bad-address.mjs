// A bad address, an undefined instruction or a breakpoint ends the run: the emulator raises no HardFault.
import { ImageFault } from './image-fault.mjs';

const HARD_FAULTS = [/invalid memory address/, /undefined address/, /not implemented yet/, /not 32 bit aligned/];

/** Replaces the emulator's logger, which also writes to standard output, where the jig's bytes go. */
export function badAddress(chip) {
  const judge = (_, message) => {
    if (HARD_FAULTS.some((fault) => fault.test(message))) throw new ImageFault(message);
  };
  chip.logger = { debug() {}, info() {}, warn: judge, error: judge };
  chip.onBreak = (code) => {
    throw new ImageFault(`the image stopped itself: a panic or a hard fault (break ${code})`);
  };
}
