// The computer at the other end of the USB cable: opens the jig's serial port and passes bytes both ways.
import { enumerate } from './enumerate.mjs';
import { ImageFault } from '../workarounds/image-fault.mjs';
import { Wire } from './wire.mjs';

const PACKET_BYTES = 64;

export class UsbHost {
  #wire;
  #received;
  #endpoints;
  #waiting = new Uint8Array(0);
  #sending = false;
  #step = 'bus reset';

  /** `received(bytes, next)` calls `next()` when it has room for more; until then the jig's packets are refused with NAK. */
  constructor(chip, received) {
    const usb = chip.usbCtrl;
    this.#received = received;
    this.#wire = new Wire(chip, () => {
      throw new ImageFault(`the image refused a USB request (${this.#step})`);
    });
    usb.onUSBEnabled = () => usb.resetDevice();
    usb.onResetReceived = () => this.#open();
  }

  get open() {
    return Boolean(this.#endpoints);
  }

  get idle() {
    return this.open && this.#waiting.length === 0;
  }

  send(bytes) {
    this.#waiting = Buffer.concat([this.#waiting, bytes]);
    if (this.open) this.#write();
  }

  #open() {
    const steps = enumerate();
    const advance = (answer) => {
      const { value: step, done } = steps.next(answer);
      if (done) return this.#start(step);
      if (step.setup) {
        this.#step = `request ${Buffer.from(step.setup).toString('hex')}`;
        return this.#wire.setup(step.setup, advance);
      }
      if ('read' in step) return this.#wire.read(step.read, advance);
      this.#wire.write(step.write, step.bytes, advance);
    };
    advance();
  }

  #start(endpoints) {
    this.#endpoints = endpoints;
    this.#read();
    this.#write();
  }

  #read() {
    this.#wire.read(this.#endpoints.in, (bytes) => this.#received(bytes, () => this.#read()));
  }

  #write() {
    if (this.#sending || this.#waiting.length === 0) return;
    this.#sending = true;
    this.#wire.write(this.#endpoints.out, this.#waiting.subarray(0, PACKET_BYTES), (sent) => {
      this.#waiting = this.#waiting.subarray(sent.length);
      this.#sending = false;
      this.#write();
    });
  }
}
