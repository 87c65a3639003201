// An RP2040 with the firmware image in flash, started the way its boot ROM starts it, once or again.
import { RP2040 } from 'rp2040js';
import { RAM } from './memory.mjs';
import { installRom } from './rom.mjs';
import { workAround } from './workarounds/all.mjs';
import { flashId } from './workarounds/flash-id.mjs';
import { timerFromZero } from './workarounds/timer-from-zero.mjs';
import { keepWatchdog } from './workarounds/watchdog.mjs';

const SECOND_STAGE = 0x20041f00;
const SECOND_STAGE_BYTES = 256;

/** `flash`: a NorFlash with the image in it. */
export function startChip(flash) {
  return boot(new RP2040(), flash);
}

/** A restart resets all but flash, RAM, the watchdog's memory and the oscillators: a new chip that goes on with these. */
export function restartChip(before, flash) {
  before.clock.nextAlarm = null; // whatever the old chip and the world around it had waited for
  const chip = new RP2040(before.clock);
  chip.sram.set(before.sram);
  keepWatchdog(before, chip);
  timerFromZero(chip);
  return boot(chip, flash);
}

function boot(chip, flash) {
  workAround(chip);
  flash.attach(chip);
  flashId(chip, flash.id);
  installRom(chip, flash);
  chip.sram.set(chip.flash.subarray(0, SECOND_STAGE_BYTES), SECOND_STAGE - RAM);
  Object.assign(chip.core, { SP: SECOND_STAGE, PC: SECOND_STAGE, LR: 0 });
  return chip;
}
