/** Closures on the mesh, their ties and masses in the model. */
export { closureMass, isHeld, type Tied, withClosures } from './close.ts';
export { faceAt, leadsOf } from './lead.ts';
export { type LaidClosure, laidClosures } from './lay.ts';
export { type Spot, spotAt } from './places.ts';
