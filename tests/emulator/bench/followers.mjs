// The live dividers' followers on the ADC: what a post stands at, divided down, around the mid voltage.
import { PINS } from './pins.mjs';

const FIRST_INPUT = 26;
const SUPPLY_V = 3.3, MID_V = SUPPLY_V / 2;
const THERMOMETER = 4; // 0.706 V at 27 °C, 1.721 mV less for each kelvin
const FOOT_OHM = 22_000, DIVIDER_OHM = 4_522_000;

export function connectFollowers(chip, world) {
  const { adc } = chip;
  const codes = 2 ** adc.resolution;
  let code;
  const taken = chip.clock.createAlarm(() => adc.completeADCRead(code, false));
  adc.onADCRead = (input) => {
    const volts = input === THERMOMETER ? 0.706 - 0.001721 * (world.jig_celsius() - 27) : followed(input);
    code = Math.min(Math.max(Math.floor((volts / SUPPLY_V) * codes), 0), codes - 1);
    taken.schedule(adc.sampleTime * 1000);
  };
  const followed = (input) => {
    const post = PINS.followers.indexOf(FIRST_INPUT + input);
    return MID_V + (world.followed_volts(post, chip.clock.nanos) * FOOT_OHM) / DIVIDER_OHM;
  };
}
