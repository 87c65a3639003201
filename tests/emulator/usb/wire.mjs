// The USB cable: moves one packet when the image has a buffer ready and the host has a use for it.
import { AVAILABLE, FULL, LENGTH, usbBuffers } from '../workarounds/usb-buffers.mjs';

/** About one packet in a busy full-speed frame; a model, no measure of throughput. */
const PACKET_NANOS = 50_000;
const CONTROL_BUFFER = 0x100;

export class Wire {
  #chip;
  #wanted = new Map();

  /** `refused()` is called when the image stalls the control endpoint. */
  constructor(chip, refused) {
    this.#chip = chip;
    usbBuffers(chip.usbCtrl, {
      armed: (endpoint, out) => this.#look(endpoint, out),
      stalled: (endpoint) => endpoint === 0 && refused(),
    });
  }

  setup(packet, done) {
    this.#later(() => {
      this.#chip.usbCtrl.sendSetupPacket(packet);
      done();
    });
  }

  /** One packet in; until the image has one, it answers NAK. */
  read(endpoint, done) {
    this.#want({ endpoint, out: false, done });
  }

  /** One packet out; until the image has room, it answers NAK. */
  write(endpoint, bytes, done) {
    this.#want({ endpoint, out: true, bytes, done });
  }

  #want(transfer) {
    this.#wanted.set(transfer.endpoint * 2 + Number(transfer.out), transfer);
    this.#look(transfer.endpoint, transfer.out);
  }

  #look(endpoint, out) {
    const transfer = this.#wanted.get(endpoint * 2 + Number(out));
    if (!transfer || transfer.moving || !(this.#control(transfer) & AVAILABLE)) return;
    transfer.moving = true;
    this.#later(() => {
      this.#wanted.delete(endpoint * 2 + Number(out));
      transfer.done(this.#move(transfer));
    });
  }

  #move(transfer) {
    const { usbDPRAM: memory, usbDPRAMView: view, usbCtrl: usb } = this.#chip;
    const { endpoint, out } = transfer;
    const control = this.#control(transfer);
    const buffer = endpoint === 0 ? CONTROL_BUFFER : view.getUint32(endpoint * 8 + (out ? 4 : 0), true) & 0xffc0;
    let bytes;
    if (out) {
      bytes = transfer.bytes.subarray(0, control & LENGTH);
      memory.set(bytes, buffer);
      view.setUint32(controlAt(transfer), (control & ~(AVAILABLE | LENGTH)) | FULL | bytes.length, true);
    } else {
      bytes = memory.slice(buffer, buffer + (control & LENGTH));
      view.setUint32(controlAt(transfer), control & ~(AVAILABLE | FULL), true);
    }
    usb.indicateBufferReady(endpoint, out);
    return bytes;
  }

  #control(transfer) {
    return this.#chip.usbDPRAMView.getUint32(controlAt(transfer), true);
  }

  #later(callback) {
    this.#chip.clock.createAlarm(callback).schedule(PACKET_NANOS);
  }
}

function controlAt({ endpoint, out }) {
  return 0x80 + endpoint * 8 + (out ? 4 : 0);
}
