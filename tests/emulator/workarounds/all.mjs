// Every fault of the emulator that the jig's image meets, worked around on one chip (USB buffers: usb/wire.mjs asks for them).
import { adcFifoInterrupt } from './adc-fifo-interrupt.mjs';
import { adcRoundRobin } from './adc-round-robin.mjs';
import { badAddress } from './bad-address.mjs';
import { i2cAbort } from './i2c-abort.mjs';
import { i2cInterruptMask } from './i2c-interrupt-mask.mjs';
import { i2cReset } from './i2c-reset.mjs';
import { i2cRestart } from './i2c-restart.mjs';
import { sendEvent } from './send-event.mjs';
import { watchdog } from './watchdog.mjs';
import { xipControl } from './xip-control.mjs';

export function workAround(chip) {
  for (const i2c of chip.i2c) {
    i2cInterruptMask(i2c);
    i2cRestart(i2c);
    i2cAbort(i2c);
  }
  i2cReset(chip);
  adcRoundRobin(chip.adc);
  adcFifoInterrupt(chip.adc);
  badAddress(chip);
  sendEvent(chip);
  watchdog(chip);
  xipControl(chip);
}
