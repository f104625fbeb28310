/** Numbers and plane figures that know no bag: elementary functions that are the same everywhere, seeded chance, gravity, union-find, robust orientation, segments, polygons. Every stage may import it, the solver too. */
export { alike } from './alike.ts';
export { GRAVITY } from './gravity.ts';
export * as libm from './libm/index.ts';
export { orientation } from './orientation.ts';
export { distanceToPolygon, insidePolygon, polygonArea } from './polygon.ts';
export { seeded } from './random.ts';
export { crossingFraction, distanceToSegment, meetingPoint, nearestFraction, sideOf } from './segments.ts';
export { sha256 } from './sha256.ts';
export { student90 } from './student.ts';
export { UnionFind } from './union-find.ts';
export { toEnd, type Work } from './work.ts';
