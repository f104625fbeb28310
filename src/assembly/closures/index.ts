/** Closures on the mesh, their ties and masses in the model. */

export { type ClosureLine, closureLines, closuresAtRest, type TiesAtRest } from './at-rest.ts';
export { closureMass, isHeld, type Tied, withClosures } from './close.ts';
export { type LaidClosure, laidClosures } from './lay.ts';
export { faceAt, leadsOf } from './lead.ts';
export { type Spot, spotAt } from './places.ts';
