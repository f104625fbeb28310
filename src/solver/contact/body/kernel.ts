import { createBodies } from './bodies.ts';
import { commitBodies, evaluateBodies } from './body-force.ts';
import { applySchur, createSchur, factorSchur } from './body-schur.ts';
import { applyBodies, cutAtBodies, slowBodies } from './body-steps.ts';
import { type BodyKernel, openBodyDoor } from './door.ts';

const KERNEL: BodyKernel = { createBodies, evaluateBodies, commitBodies, applyBodies, cutAtBodies, slowBodies, createSchur, factorSchur, applySchur };

/** Makes the solver ready for models with rigid things. */
export const readyForBodies = (): void => openBodyDoor(KERNEL);
