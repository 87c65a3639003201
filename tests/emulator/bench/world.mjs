// The run and the jig's front end: the simulated board, built to wasm, with one scene loaded.
import { readFileSync } from 'node:fs';

/** Everything the chip can do to the bench, as the wasm exports it; times are nanoseconds since power-up. */
export async function openWorld(wasmFile, sceneFile, seed) {
  const { instance } = await WebAssembly.instantiate(readFileSync(wasmFile), {});
  const world = instance.exports;
  const scene = readFileSync(sceneFile);
  const at = world.scene_buffer(scene.length);
  new Uint8Array(world.memory.buffer, at, scene.length).set(scene);
  if (world.load(scene.length, seed) < 0) throw new Error(`${sceneFile}: ${message(world)}`);
  return world;
}

function message(world) {
  const bytes = new Uint8Array(world.memory.buffer, world.message_ptr(), world.message_len());
  return new TextDecoder().decode(bytes);
}
