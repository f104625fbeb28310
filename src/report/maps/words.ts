import type { MapKind } from './types.ts';

/** The words of the maps: on the page and in pictures. */
export const words = {
  title: { strain: 'Strain', gap: 'Gap to contact', seams: 'Force across the seams' } satisfies Record<MapKind, string>,
  how: {
    strain:
      'How much longer the cloth is than cut, in whatever direction that is most. Shear counts, and so do bends between mesh points; the report counts on flat triangles, along the yarns alone where cloth shears freely, and may say more or less.',
    gap: 'From each mesh point to what it would touch first: table, form, a thing inside, or cloth from elsewhere on the bag.',
    seams:
      'What the cloth beside a seam pulls across it, per metre, on the side that pulls more; thicker is more. At corners the figure depends on the mesh: read the place first. It does not say what a seam can carry: test it with a real load.',
  } satisfies Record<MapKind, string>,
  curvature: {
    title: 'Curvature',
    how: 'How tightly the cloth is bent, told as the radius of the tightest bend at each place. Seams and outlines are creases and left out. Folds tighter than two edges of the mesh are shown wider than they are.',
    flat: 'flat',
    tighter: (length: string): string => `${length} or tighter`,
    tightest: (length: string, panel: string): string => `tightest bend: radius ${length} - ${panel}`,
    everywhereFlat: 'flat everywhere',
  },
  percent: (v: string): string => `${v} %`,
  force: (v: string): string => `${v} N/m`,
  less: (v: string): string => `${v} or shortened`,
  pressed: (v: string): string => `${v} or pressed`,
  beyond: (v: string): string => `${v} or more`,
  touches: '0 mm: touches',
  moving: 'not at rest',
  noSeams: 'no seams',
  largest: (value: string, where: string): string => `largest ${value} - ${where}`,
  yarns: (value: string): string => ` (${value} as the report counts it)`,
  /** Under what can be told from nothing. */ under: (value: string): string => `under ${value}`,
  everywhere: (value: string): string => `${value} everywhere`,
  touchingPoints: (n: number, of: number, name: string): string => `touches ${name} at ${n} of ${of} mesh points`,
  nearest: (name: string, value: string, where: string): string => `nearest to ${name}: ${value} - ${where}`,
  clear: (name: string, reach: string): string => `nothing within ${reach} of ${name}`,
  other: 'other cloth',
  thing: (name: string): string => `the ${name}`,
  part: (name: string, value: string): string => `${name} ${value}`,
  seam: (name: string, panels: string): string => `seam ${name} (${panels})`,
  /** Of a seam that has only a letter: on the mat, letters are the options'. */
  seamOf: (panels: string): string => `seam from ${panels}`,
  to: ' to ',
  place: {
    anchor: (side: string, strap: string): string => `by the ${side} anchor of ${strap}`,
    onlyAnchor: (strap: string): string => `by the anchor of ${strap}`,
    left: 'left',
    right: 'right',
    columns: ['left', 'middle', 'right'],
    rows: ['low down', 'half way up', 'near the top'],
    edge: (name: string): string => `by its edge "${name}"`,
    by: (panel: string): string => `by the ${panel}`,
    middle: 'in its middle',
    in: (panel: string, where: string): string => `${panel}, ${where}`,
  },
} as const;
