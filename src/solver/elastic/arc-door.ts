import type { creatingArcBlocks } from './arc-blocks.ts';
import type { assemblingArcBlocks } from './arc-values.ts';

/** What the factor of hung bags asks of arcs. It is loaded with what lets bags hang (../arcs.ts): what stands does without, and a page waits for it. */
export interface ArcKernel {
  readonly creatingArcBlocks: typeof creatingArcBlocks;
  readonly assemblingArcBlocks: typeof assemblingArcBlocks;
}

let kernel: ArcKernel | null = null;

/** Hands in what arcs.ts has loaded. */
export function openArcDoor(loaded: ArcKernel): void {
  kernel = loaded;
}

/** What was handed in. Throws where a bag hangs and nothing was: await loadArcs() first. */
export function arcKernel(): ArcKernel {
  if (!kernel) throw new Error('a hung bag, but solver/arcs.ts is not loaded: await loadArcs()');
  return kernel;
}
