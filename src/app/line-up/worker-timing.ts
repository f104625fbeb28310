import { type Bag, loadArcs, loadDrop, type Scene, strapsAt } from '../core.ts';
import type { Start } from './solver-protocol.ts';

/** What the workers that keep bags in motion have in common. */

/** Lets messages and the clock through; a plain loop would send the whole fall at once. A browser makes a chain of them wait at least 4 ms each. */
export const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

const { port1, port2 } = new MessageChannel();

/** Lets messages through without waiting for the clock. */
export function lookUp(): Promise<void> {
  return new Promise((resolve) => {
    port1.onmessage = () => resolve();
    port2.postMessage(null);
  });
}

/** What lets things in the bag fall, where there are any, and what a hung bag needs: chunks of their own. */
export async function dropFor(bag: Bag, stance: string): Promise<{ drop?: Awaited<ReturnType<typeof loadDrop>> }> {
  const on = bag.stances.find((s) => s.name === stance);
  if (on?.kind === 'hung') await loadArcs();
  return on && on.kind !== 'held' && on.contents ? { drop: await loadDrop() } : {};
}

/** What the screen needs of a bag before it moves. */
export const startOf = (scene: Scene): Start => ({
  mesh: scene.mesh,
  drafted: Float32Array.from(scene.drafted),
  thickness: scene.thickness,
  straps: strapsAt(scene, scene.start),
});

/** Where a bag in motion is, for the screen, and what may be handed over with it: its points and its straps' lines. */
export function framed(scene: Scene, x: Float64Array): { frame: { x: Float32Array; lines: Float32Array[] }; buffers: Transferable[] } {
  const frame = { x: Float32Array.from(x.subarray(0, 3 * scene.mesh.vertexCount)), lines: strapsAt(scene, x).map((s) => Float32Array.from(s.line)) };
  return { frame, buffers: [frame.x.buffer, ...frame.lines.map((l) => l.buffer)] };
}
