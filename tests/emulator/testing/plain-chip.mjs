// A chip as the emulator makes it, with its faults: each work-around's test shows first what it is for.
import { RP2040 } from 'rp2040js';

const SILENT = { debug() {}, info() {}, warn() {}, error() {} };

export function plainChip() {
  const chip = new RP2040();
  chip.logger = { ...SILENT };
  return chip;
}

/** I2C registers and bits that the tests use. */
export const I2C = {
  DATA_CMD: 0x10, INTR_MASK: 0x30, RAW_INTR_STAT: 0x34, ENABLE: 0x6c, STATUS: 0x70, TXFLR: 0x74,
  READ: 1 << 8, STOP: 1 << 9, RESTART: 1 << 10,
  TX_ABRT: 1 << 6, TX_EMPTY: 1 << 4, ACTIVITY: 1,
};

/** ADC registers and bits that the tests use. */
export const ADC = {
  CS: 0x00, FCS: 0x08, FIFO: 0x0c, INTE: 0x18,
  EN: 1, START_ONCE: 1 << 2, START_MANY: 1 << 3, RROBIN_AT: 16, FIFO_EN: 1, THRESHOLD_AT: 24,
};

/** An I2C block whose target answers at once; `starts` counts START and repeated START. */
export function answeringI2c(chip) {
  const i2c = chip.i2c[0];
  i2c.starts = 0;
  i2c.onStart = () => {
    i2c.starts++;
    i2c.completeStart();
  };
  i2c.onConnect = () => i2c.completeConnect(true);
  i2c.onWriteByte = () => i2c.completeWrite(true);
  i2c.onReadByte = () => i2c.completeRead(0x55);
  i2c.writeUint32(I2C.ENABLE, 1);
  return i2c;
}
