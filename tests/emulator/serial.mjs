// The serial port as the host program sees it: the jig's bytes on standard output, the host's on standard input.
export class Serial {
  gone = false;
  #wake = () => {};
  #woken = false;

  /** `receive(bytes)` is called with what the host writes. */
  constructor(receive) {
    const event = () => {
      this.#woken = true;
      this.#wake();
    };
    const leave = () => {
      this.gone = true;
      event();
    };
    process.stdin.on('data', (bytes) => {
      receive(bytes);
      event();
    });
    // A closed terminal reports EIO instead of an end.
    process.stdin.on('end', leave).on('error', leave);
    process.stdout.on('error', leave);
  }

  /** Resolves when the host has written or left since the last call. */
  async activity() {
    if (!this.#woken) await new Promise((done) => (this.#wake = done));
    this.#woken = false;
  }

  send(bytes, next) {
    if (process.stdout.write(bytes)) next();
    else process.stdout.once('drain', next);
  }
}
