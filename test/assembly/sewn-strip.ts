import { type Bag, parseBag } from '../../src/bag/index.ts';
import { settleBag } from '../../src/index.ts';
import { GRAVITY } from '../../src/units/index.ts';

/** A level strip of two halves that juts out from a clamp, sewn flat along its middle; figures of its cloth, SI. */
export const STRIP = { length: 0.16, half: 0.02, mass: 0.4, D: 0.05, C: 20_000 } as const;
/** Of a fin against the half it is sewn to, rad. */
const UPRIGHT = -Math.PI / 2;

export const strongCloth = {
  mass: '400 g/m2',
  thickness: '1 mm',
  D11: `${STRIP.D} N.m`,
  D22: `${STRIP.D} N.m`,
  D66: `${STRIP.D / 2} N.m`,
  C11: `${STRIP.C} N/m`,
  C22: `${STRIP.C} N/m`,
  C66: `${STRIP.C / 2} N/m`,
};

/** What is sewn to the strip: a fin that stands on the seam, m high; words of the seam; finishes of both outer edges. */
export interface SewnTo {
  readonly fin?: number;
  readonly seam?: object;
  readonly finish?: object;
}

/** Rigidity of the whole strip along it, N*m2, by its droop as a cantilever under `weight`, N (small slopes): EI = W L^3/(8 f). Throws where it is not at rest. */
export function rigidityOf({ fin, seam, finish }: SewnTo, edgeLength: number): number {
  const { length, half, mass } = STRIP;
  const piece = (y: number, outer: string) => ({
    rectangle: { width: `${half} m`, height: `${length} m` },
    clips: [{ edge: 'bottom', slope: true }],
    ...(finish ? { open: [outer], finishes: { [outer]: finish } } : {}),
    pose: { origin: [0, `${y} m`, '300 mm'], x: [0, -1, 0], y: [1, 0, 0] },
  });
  const bag = parseBag({
    slumpline: 1,
    panels: {
      p: piece(half, 'left'),
      q: piece(0, 'right'),
      ...(fin
        ? {
            fin: {
              rectangle: { width: `${fin} m`, height: `${length} m` },
              clips: [{ edge: 'bottom', slope: true }],
              pose: { origin: [0, 0, '300 mm'], x: [0, 0, 1], y: [1, 0, 0] },
            },
          }
        : {}),
    },
    seams: { s: { join: ['p.right', 'q.left', ...(fin ? ['fin.left'] : [])], allowance: '0 mm', type: 'plain', ...seam } },
    stacks: { cloth: strongCloth },
    options: { o: { 'every panel': 'cloth' } },
    stances: { held: {} },
  });
  // Grown together square and flat: the hinge as drafted, a thousand times as stiff as the cloth.
  const stiff: Bag = { ...bag, seams: bag.seams.map((s) => ({ ...s, hinge: { stiffness: 50, restAngle: s.name === 's' ? 0 : UPRIGHT } })) };
  const { mesh, runs, massKg } = settleBag(stiff, { edgeLength, bands: ['mid'] });
  if (runs[0]!.status !== 'settled') throw new Error(`not at rest: ${runs[0]!.status}`);
  const { right } = mesh.outlines[0]!;
  const droop = 0.3 - runs[0]!.positions[3 * right.verts[right.at.indexOf(Math.max(...right.at))]! + 2]!;
  const weight = (fin || seam || finish ? massKg : mass * 2 * half * length) * GRAVITY;
  return (weight * length ** 3) / (8 * droop);
}
