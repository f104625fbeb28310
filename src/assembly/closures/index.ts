/** Closures on the mesh, their ties and masses in the model. */

export { closureLines, closuresAtRest } from './at-rest.ts';
export { closureMass, type Tied, withClosures } from './close.ts';
export { type LaidClosure, laidClosures } from './lay.ts';
export { leadsOf } from './lead.ts';
export { spotAt } from './places.ts';
