// The ADC's interrupt ends when its FIFO has been read below the threshold: the emulator lets it stand until the next conversion.
const FIFO = 0x0c;

export function adcFifoInterrupt(adc) {
  const read = adc.readUint32;
  adc.readUint32 = function (offset) {
    const value = read.call(this, offset);
    if (offset === FIFO) this.checkInterrupts();
    return value;
  };
}
