// After each conversion the ADC goes on to the next input of the round: the emulator stays at the first.
const AINSEL = 0x7, AINSEL_AT = 12;

export function adcRoundRobin(adc) {
  Object.defineProperty(adc, 'activeChannel', {
    get() {
      return (this.cs >> AINSEL_AT) & AINSEL;
    },
    set(input) {
      this.cs = (this.cs & ~(AINSEL << AINSEL_AT)) | ((input & AINSEL) << AINSEL_AT);
    },
  });
}
