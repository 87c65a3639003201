// An RP2040 with the firmware image in flash, started the way its boot ROM starts it.
import { RP2040 } from 'rp2040js';
import { workAround } from './workarounds/all.mjs';

const FLASH = 0x10000000;
const RAM = 0x20000000;
const SECOND_STAGE = 0x20041f00;
const SECOND_STAGE_BYTES = 256;

export function startChip(elf) {
  const chip = new RP2040();
  workAround(chip);
  // Only now: building the chip wipes its flash.
  for (const { address, bytes } of elf.segments) chip.flash.set(bytes, address - FLASH);
  chip.sram.set(chip.flash.subarray(0, SECOND_STAGE_BYTES), SECOND_STAGE - RAM);
  Object.assign(chip.core, { SP: SECOND_STAGE, PC: SECOND_STAGE, LR: 0 });
  return chip;
}
