import { createDoor } from '../../door.ts';
import type { Bodies, createBodies } from './bodies.ts';
import type { commitBodies, evaluateBodies } from './body-force.ts';
import type { applySchur, createSchur, factorSchur } from './body-schur.ts';
import type { applyBodies, cutAtBodies, slowBodies } from './body-steps.ts';

/** All that the solver asks of rigid contents. It is loaded with what lets them fall into the bag (rigid.ts): most bags need neither, and a page waits for both. */
export interface BodyKernel {
  readonly createBodies: typeof createBodies;
  readonly evaluateBodies: typeof evaluateBodies;
  readonly commitBodies: typeof commitBodies;
  readonly applyBodies: typeof applyBodies;
  readonly cutAtBodies: typeof cutAtBodies;
  readonly slowBodies: typeof slowBodies;
  readonly createSchur: typeof createSchur;
  readonly factorSchur: typeof factorSchur;
  readonly applySchur: typeof applySchur;
}

/** Opened by rigid.ts; through it where a model has rigid things. */
const door = createDoor<BodyKernel>('rigid contents, but solver/rigid.ts is not loaded: await loadDrop()');
export const openBodyDoor = door.open;
export const bodyKernel = door.through;

/** The model's rigid bodies with their working arrays; null where it has none. */
export const bodiesOf = (model: Parameters<typeof createBodies>[0]): Bodies | null => (model.bodies?.length ? bodyKernel().createBodies(model) : null);
