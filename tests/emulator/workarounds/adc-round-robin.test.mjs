import assert from 'node:assert/strict';
import { test } from 'node:test';
import { ADC, plainChip } from '../testing/plain-chip.mjs';
import { adcRoundRobin } from './adc-round-robin.mjs';

function inputsRead(workAround) {
  const chip = plainChip();
  workAround(chip.adc);
  const inputs = [];
  const { onADCRead } = chip.adc;
  chip.adc.onADCRead = (input) => {
    inputs.push(input);
    onADCRead(input);
  };
  chip.adc.writeUint32(ADC.CS, ADC.EN | ADC.START_MANY | (0b1111 << ADC.RROBIN_AT));
  while (inputs.length < 6) chip.clock.tick(1000);
  return inputs;
}

test('the ADC goes round its inputs', () => {
  assert.deepEqual(inputsRead(() => {}), [0, 0, 0, 0, 0, 0], 'the emulator has learnt it: drop the work-around');
  assert.deepEqual(inputsRead(adcRoundRobin), [0, 1, 2, 3, 0, 1]);
});
