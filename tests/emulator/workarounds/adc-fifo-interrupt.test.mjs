import assert from 'node:assert/strict';
import { test } from 'node:test';
import { ADC, plainChip } from '../testing/plain-chip.mjs';
import { adcFifoInterrupt } from './adc-fifo-interrupt.mjs';

const ADC_INTERRUPT = 1 << 22;

function interruptedAfterRead(workAround) {
  const chip = plainChip();
  const { adc } = chip;
  const interrupted = () => Boolean(chip.core.pendingInterrupts & ADC_INTERRUPT);
  workAround(adc);
  adc.writeUint32(ADC.FCS, ADC.FIFO_EN | (1 << ADC.THRESHOLD_AT));
  adc.writeUint32(ADC.INTE, 1);
  adc.writeUint32(ADC.CS, ADC.EN | ADC.START_ONCE);
  chip.clock.tick(10_000);
  assert.equal(interrupted(), true);
  adc.readUint32(ADC.FIFO);
  return interrupted();
}

test('an ADC interrupt ends when its FIFO is read', () => {
  assert.equal(interruptedAfterRead(() => {}), true, 'the emulator has learnt it: drop the work-around');
  assert.equal(interruptedAfterRead(adcFifoInterrupt), false);
});
