import { strapLines } from '../assembly/index.ts';
import type { BandRun } from '../report/types.ts';
import { createFall, type Fall } from '../solver/index.ts';
import { meetsItself, type Scene } from './scene.ts';

/** The scene in motion, for watching, a step in a third of the time: plain triangles, without the arcs that a settle ends with. */
export const fall = (scene: Scene): Fall => createFall(scene.model, scene.start, { selfContact: meetsItself(scene), formulation: 'plain' });

/** The carrying straps of a scene at x (all its points), for drawing: the start's, or those of a fall. */
export const strapsAt = (scene: Scene, x: Float64Array): BandRun['straps'] => strapLines(scene.rig, x);
