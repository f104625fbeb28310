/** Arrays only: energy, Newton, contact, falls, rest. */

export { buildGrid, overlaps } from './contact/cloth/broad-phase.ts';
export { vertexTriangle } from './contact/cloth/closest.ts';
export { activationDistance, createPairContact } from './contact/cloth/pairs.ts';
export { truncatePairs } from './contact/cloth/truncate.ts';
export { leastOverFace } from './contact/edge-face/span-nearest.ts';
export { distance } from './contact/support/shapes.ts';
export { surfacePoints } from './contact/support/surface.ts';
export { leastPulls } from './elastic/cords.ts';
export { joinRods, type RodChain } from './elastic/rod-chains.ts';
export { type BodySpec, joinBodies } from './join-bodies.ts';
export { reachOf } from './moments.ts';
export { newtonDirection } from './newton.ts';
export { bodiesAt, clothMass, loadsOnSheet, totalForce } from './read-state.ts';
export { closing, handOver, inHands, type Lead, leaveLong } from './rest/closing.ts';
export { NUDGE } from './rest/nudge-load.ts';
export { pseudoTransient } from './rest/pseudo-transient.ts';
export { reactions } from './rest/settle.ts';
export type { SettleOptions } from './rest/settle-run.ts';
export { meanHeight } from './rest/settle-run.ts';
export { standing } from './rest/stand.ts';
export { swingFourWays } from './rest/swing.ts';
export { createFall, type Fall, fallOf } from './rest/watched-fall.ts';
export type { Drop, Wall } from './rigid.ts';
export { settle } from './settle.ts';
export {
  analysing,
  type BlockPattern,
  compiledKernels,
  type Factor,
  factorising,
  kernelsInUse,
  type Symbolic,
  solve,
  takeKernels,
} from './sparse/index.ts';
export { createSystem, creatingSystem, forces, residualOf, type System } from './system.ts';
export { toEnd, type Work } from './work.ts';
