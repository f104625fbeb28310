import type { SwatchTestName } from './core.ts';

/** How a test is looked at: places of three dimensions to right and up, m, and how far away they are (larger is further). */
export interface View {
  readonly at: (x: number, y: number, z: number) => readonly [number, number];
  readonly depth: (x: number, y: number, z: number) => number;
  /** Unit vector from the piece towards the eye. */ readonly eye: readonly [number, number, number];
}

/** From the side and a little from above: x and z to scale, the width running off to the upper right. */
export const ASIDE = 0.34;
export const ABOVE = 0.2;
const size = Math.hypot(ASIDE, 1, ABOVE);
const SIDE: View = {
  at: (x, y, z) => [x + ASIDE * y, z + ABOVE * y],
  depth: (x, y, z) => y - ASIDE * x - ABOVE * z,
  eye: [ASIDE / size, -1 / size, ABOVE / size],
};
const TOP: View = { at: (x, y) => [x, y], depth: (_x, _y, z) => -z, eye: [0, 0, 1] };
const FRONT: View = { at: (_x, y, z) => [y, z], depth: (x) => -x, eye: [1, 0, 0] };

export const viewOf = (test: SwatchTestName): View => (test === 'drape' ? TOP : test === 'bias' ? FRONT : SIDE);

/** What holds the piece or what it lies on, for the picture. */
export type Furniture = 'edge' | 'grip' | 'foot' | 'table' | 'disc' | 'wall';
const FURNITURE: Readonly<Record<SwatchTestName, Furniture>> = {
  cantilever: 'edge',
  tip: 'edge',
  board: 'edge',
  heart: 'grip',
  ring: 'grip',
  pear: 'grip',
  bias: 'grip',
  standing: 'foot',
  leaning: 'foot',
  corner: 'foot',
  tube: 'table',
  slip: 'table',
  drape: 'disc',
  'on-edge': 'wall',
};
export const furnitureOf = (test: SwatchTestName): Furniture => FURNITURE[test];
