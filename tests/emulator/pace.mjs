// Waiting costs real time, so that heartbeats of an idle jig come at a bounded rate and the processor rests.
const SIMULATED_PER_REAL = 20;
const LONGEST_REAL_SLEEP_MS = 60_000;

/** Sleeps through a wait of the jig's chip or until `woken()` settles, then moves simulated time on by what has passed. */
export async function sleep(jig, waitNanos, woken) {
  const started = performance.now();
  const longest = Math.min(waitNanos / 1e6 / SIMULATED_PER_REAL, LONGEST_REAL_SLEEP_MS);
  let timer;
  await Promise.race([new Promise((done) => (timer = setTimeout(done, longest))), woken()]);
  clearTimeout(timer);
  const passed = (performance.now() - started) * 1e6 * SIMULATED_PER_REAL;
  jig.pass(Math.min(waitNanos, passed));
}
