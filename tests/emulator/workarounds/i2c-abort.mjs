// An aborted transfer leaves the transmit FIFO empty and says so: a driver that waits for room would wait for ever.
const TX_EMPTY = 1 << 4;

export function i2cAbort(i2c) {
  const abort = i2c.abort;
  i2c.abort = function (reason) {
    abort.call(this, reason);
    this.setInterrupts(TX_EMPTY);
  };
}
