import { createDoor } from '../door.ts';
import type { creatingArcBlocks } from './arc-blocks.ts';
import type { assemblingArcBlocks } from './arc-values.ts';

/** What the factor of hung bags asks of arcs. It is loaded with what lets bags hang (../arcs.ts): what stands does without, and a page waits for it. */
interface ArcKernel {
  readonly creatingArcBlocks: typeof creatingArcBlocks;
  readonly assemblingArcBlocks: typeof assemblingArcBlocks;
}

/** Opened by arcs.ts; through it where a bag hangs. */
const door = createDoor<ArcKernel>('a hung bag, but solver/arcs.ts is not loaded: await loadArcs()');
export const openArcDoor = door.open;
export const arcKernel = door.through;
