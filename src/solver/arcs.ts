import { creatingArcBlocks } from './elastic/arc-blocks.ts';
import { openArcDoor } from './elastic/arc-door.ts';
import { assemblingArcBlocks } from './elastic/arc-values.ts';

/** Makes the solver ready for hung bags, whose factor may hold what arcs add. Every face calls it before a bag hangs; a page loads it then. */
export const readyForArcs = (): void => openArcDoor({ creatingArcBlocks, assemblingArcBlocks });
