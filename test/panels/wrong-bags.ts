/** Bags that cannot be sewn, or certainly are not meant: each a file, the seam or edge that must be named, and the kind of finding. */

const rectangle = (w: number, h: number) => ({ rectangle: { width: `${w} mm`, height: `${h} mm` } });
const wall = { ...rectangle(300, 240), open: ['top'] };
const side = { role: 'side', ...rectangle(100, 240), open: ['top'] };

/** Panels and seams of a sound box tote of 300 x 240 x 100 mm. */
export const BOX_PANELS = { front: wall, back: wall, left: side, right: side, base: rectangle(300, 100) };
export const BOX_SEAMS = {
  A: ['front.bottom', 'base.bottom'],
  B: ['back.bottom', 'base.top'],
  C: ['left.bottom', 'base.right'],
  D: ['right.bottom', 'base.left'],
  E: ['front.right', 'right.left'],
  F: ['right.right', 'back.left'],
  G: ['back.right', 'left.left'],
  H: ['left.right', 'front.left'],
};

export const bagFile = (panels: object, seams: object, more: object = {}): Record<string, unknown> => ({
  slumpline: 1,
  panels,
  seams,
  stacks: { cloth: ['canvas10'] },
  ...more,
});

const without = (...names: string[]): object => Object.fromEntries(Object.entries(BOX_SEAMS).filter(([name]) => !names.includes(name)));

const square = { ...rectangle(300, 300), open: ['top'] };
const cubeSide = { role: 'side', ...square };
const CUBE = { front: square, back: square, left: cubeSide, right: cubeSide, base: rectangle(300, 300) };

export interface Wrong {
  readonly what: string;
  readonly file: Record<string, unknown>;
  /** Kind and place of the first fault. */ readonly kind: string;
  readonly path: string;
  /** What its words must hold. */ readonly words: readonly string[];
  /** Number of faults; one slip is told once. */ readonly faults: number;
}

const rounded = (around: string[]) => ({
  rectangle: { width: '300 mm', height: '250 mm', radius: ['50 mm', '50 mm', 0, 0] },
  open: ['top'],
  chains: { around },
});
const gusseted = (around: string[]) =>
  bagFile(
    { front: rounded(around), back: rounded(around), gusset: { rectangle: { width: '100 mm', height: 'edge(front.around)' }, open: ['top', 'bottom'] } },
    { A: ['front.around', 'gusset.left'], B: ['back.around', 'gusset.right'] },
  );
/** The same bag with its corner arcs in the chain. */
export const GUSSETED = gusseted(['left', 'left-bottom', 'bottom', 'bottom-right', 'right']);

export const WRONG: readonly Wrong[] = [
  {
    what: 'a: two edges sewn to each other by X, each sewn to a side as well',
    file: bagFile(BOX_PANELS, { ...BOX_SEAMS, X: ['front.right', 'back.left'] }),
    kind: 'sewn over',
    path: 'seams.X',
    words: ['front.right is sewn twice over', 'right.left by seam E', 'back.left by seam X'],
    faults: 1,
  },
  {
    what: 'a: front and back sewn to one edge of the base',
    file: bagFile(BOX_PANELS, { ...BOX_SEAMS, B: ['back.bottom', 'base.bottom'] }),
    kind: 'sewn over',
    path: 'seams.B',
    words: ['base.bottom is sewn twice over', 'front.bottom by seam A', 'back.bottom by seam B'],
    faults: 2,
  },
  {
    what: 'b: the right side sewn inside out',
    file: bagFile(BOX_PANELS, { ...BOX_SEAMS, E: ['front.right', 'right.right'], F: ['right.left', 'back.left'] }),
    kind: 'turned round',
    path: 'seams.E',
    words: ['Seam E sews the right panel inside out', 'right.left to front.right (seam E)', 'right.right to back.left (seam F)'],
    faults: 1,
  },
  {
    what: 'b: both sides sewn inside out',
    file: bagFile(BOX_PANELS, {
      ...BOX_SEAMS,
      E: ['front.right', 'right.right'],
      F: ['right.left', 'back.left'],
      G: ['back.right', 'left.right'],
      H: ['left.left', 'front.left'],
    }),
    kind: 'turned round',
    path: 'seams.G',
    words: ['Seam G sews the left panel inside out', 'left.left to back.right (seam G)'],
    faults: 2,
  },
  {
    what: 'b: two seams crossed, so that the base is sewn to itself',
    file: bagFile(BOX_PANELS, { ...BOX_SEAMS, A: ['base.top', 'base.bottom'], B: ['back.bottom', 'front.bottom'] }),
    kind: 'crossed',
    path: 'seams.A',
    words: ['Seams A and B are crossed', 'base.top sewn to back.bottom and base.bottom to front.bottom'],
    faults: 1,
  },
  {
    what: 'b: trousers, front and back each rolled into a tube and joined at the bottom',
    file: bagFile({ front: square, back: square }, { A: ['front.left', 'front.right'], B: ['back.left', 'back.right'], C: ['front.bottom', 'back.bottom'] }),
    kind: 'crossed',
    path: 'seams.A',
    words: ['Seams A and B are crossed', 'the front panel is rolled into a tube of its own', 'front.left sewn to back.right and front.right to back.left'],
    faults: 1,
  },
  {
    what: 'b: squares folded corner to corner, a wall sewn to its own lower edge',
    file: bagFile({ front: square, back: square }, { A: ['front.left', 'front.bottom'], B: ['back.left', 'back.bottom'], C: ['front.right', 'back.right'] }),
    kind: 'crossed',
    path: 'seams.A',
    words: ['Seams A and B are crossed', 'the front panel is folded over its corner'],
    faults: 1,
  },
  {
    what: 'b: the base of a cube folded over its corner',
    file: bagFile(CUBE, { ...BOX_SEAMS, A: ['front.bottom', 'left.bottom'], C: ['base.bottom', 'base.right'] }),
    kind: 'crossed',
    path: 'seams.A',
    words: ['Seams A and C are crossed', 'the base panel is folded over its corner', 'base.bottom', 'base.right'],
    faults: 1,
  },
  {
    what: 'b: the left walls of a box all sewn to one another, and the right ones',
    file: bagFile(BOX_PANELS, {
      ...BOX_SEAMS,
      E: ['front.left', 'back.left'],
      F: ['front.right', 'left.right'],
      G: ['back.right', 'right.right'],
      H: ['left.left', 'right.left'],
    }),
    kind: 'ring',
    path: 'panels.',
    words: ['a ring with a hole through it', 'the mouth comes out in 3 parts'],
    faults: 1,
  },
  {
    what: 'c: a mouth sewn to the base in place of the lower edge',
    file: bagFile(BOX_PANELS, { ...BOX_SEAMS, D: ['right.top', 'base.left'] }),
    kind: 'mouth sewn',
    path: 'seams.D',
    words: ['Seam D sews right.top, the mouth of the bag, to base.left', 'leaves right.bottom open', 'right.bottom in seam D'],
    faults: 1,
  },
  {
    what: 'c: the same with no opening stated',
    file: bagFile({ ...BOX_PANELS, right: { ...side, open: undefined } }, { ...BOX_SEAMS, D: ['right.top', 'base.left'] }),
    kind: 'mouth sewn',
    path: 'seams.D',
    words: ['Seam D', 'right.top', 'right.bottom'],
    faults: 1,
  },
  {
    what: 'd: five panels and no seam',
    file: bagFile(BOX_PANELS, {}),
    kind: 'no seams',
    path: 'seams',
    words: ['5 panels and no seam', 'front, back, left, right and base'],
    faults: 1,
  },
  {
    what: 'e: a loose panel',
    file: bagFile({ ...BOX_PANELS, patch: rectangle(80, 60) }, BOX_SEAMS),
    kind: 'loose panel',
    path: 'panels.patch',
    words: ['No seam takes up panel patch'],
    faults: 1,
  },
  {
    what: 'e: two groups that no seam joins',
    file: bagFile(
      { ...BOX_PANELS, purse: { ...rectangle(90, 60), open: ['top'] }, lid: { ...rectangle(90, 60), open: ['top'] } },
      {
        ...BOX_SEAMS,
        P: { join: ['purse.bottom', 'lid.bottom'] },
        Q: { join: ['purse.left', 'lid.right'] },
        R: { join: ['purse.right', 'lid.left'] },
      },
    ),
    kind: 'sewn apart',
    path: 'seams.P',
    words: ['purse and lid are sewn to one another', 'no seam joins them to front'],
    faults: 1,
  },
  ...(Object.keys(BOX_SEAMS) as (keyof typeof BOX_SEAMS)[]).map(
    (name): Wrong => ({
      what: `f: seam ${name} missing`,
      file: bagFile(BOX_PANELS, without(name)),
      kind: 'unsewn',
      path: 'panels.',
      words: [...BOX_SEAMS[name], 'in no seam', 'a hole in the bag', 'a seam "'],
      faults: 1,
    }),
  ),
  {
    what: 'g: a chain that leaves out both corner arcs',
    file: gusseted(['left', 'bottom', 'right']),
    kind: 'chain gap',
    path: 'seams.A',
    words: ['left-bottom and bottom-right', 'its chain "around"', '157.1 mm', '"left", "left-bottom", "bottom", "bottom-right", "right" in a row'],
    faults: 2,
  },
];
