/** How fine a mesh a bag gets when nobody asks for one: about as many points whatever its size. */
import type { Bag, Fault } from '../bag/types.ts';
import { draftPanels } from '../panels/index.ts';

/** Edge lengths that bags are meshed with, m. */
export const EDGE_RANGE = { from: 5e-4, to: 0.1 } as const;
/** Points times edge length squared, over the area of all panels: 1.10 to 1.16 over 10 templates and 6 demos at 11.8 mm; a lattice of triangles has 1.155. */
const CROWDING = 1.14;
/** Points of the usual mesh, and of the coarse one on which changes are ranked. */
const USUAL = 2000;
const COARSE = 650;
/** No usual mesh is finer than this, m: below it a small bag's figures no longer move, and thick cloth is as thick as its triangles are long. */
const FINEST = 0.005;

/**
 * Memory a point takes at the peak of a settle, bytes. Measured in Node 20, its own 75 MB taken off, on the example in leather: 36 kB at 2041 points, 23 at 10 111, 21 at
 * 40 892 (after the first step); some more for straps, things and folds.
 */
const POINT_BYTES = 28e3;
/** Memory taken to be there, bytes: what a page and a plain node get without being asked for more. */
const MEMORY = 2e9;

const areas = new WeakMap<Bag, number>();

/** Area of all panels, m2. */
function areaOf(bag: Bag): number {
  const known = areas.get(bag) ?? draftPanels(bag).panels.reduce((sum, panel) => sum + panel.area, 0);
  areas.set(bag, known);
  return known;
}

/** About how many points a bag's mesh has at this edge length, m; narrow panels, curves and gathers have more. */
const pointsAt = (bag: Bag, edgeLength: number): number => (CROWDING * areaOf(bag)) / (edgeLength * edgeLength);

function edgeFor(bag: Bag, points: number): number {
  const edge = Math.sqrt((CROWDING * areaOf(bag)) / points);
  // To a tenth of a millimetre, as it is printed: what a result says can be asked for again.
  return Math.min(EDGE_RANGE.to, Math.max(FINEST, Math.round(edge * 1e4) / 1e4));
}

/** Edge length used when none is asked for, m, to 0.1 mm: about 2000 points whatever the bag's size, and 5 mm at least. Throws BagError where its panels cannot be drafted. */
export const usualEdge = (bag: Bag): number => edgeFor(bag, USUAL);

/** The same of the coarse mesh on which changes are ranked: about 650 points. */
export const coarseEdge = (bag: Bag): number => edgeFor(bag, COARSE);

/** What stands against meshing the bag so finely: more memory than there is taken to be. Null where nothing does. */
export function tooFine(bag: Bag, edgeLength: number): Fault | null {
  const points = pointsAt(bag, edgeLength),
    bytes = points * POINT_BYTES;
  if (bytes <= MEMORY) return null;
  const least = edgeLength * Math.sqrt(bytes / MEMORY);
  return {
    path: 'mesh',
    got: `${edgeLength * 1000} mm, about ${Number(points.toPrecision(2))} points that need about ${Number((bytes / 1e9).toPrecision(2))} GB of memory`,
    expected: `an edge length of at least ${Math.ceil(least * 1e4) / 10} mm for this bag, which needs ${MEMORY / 1e9} GB`,
  };
}
