/** Random valid bag files and random faults to plant in them. Everything comes from fast-check, so a seed repeats it. */
import fc from 'fast-check';
import { PRESET_IDS } from '../../src/bag/index.ts';

export type File = Record<string, unknown> & {
  panels: Record<string, unknown>;
  seams: Record<string, unknown>;
  stacks: Record<string, unknown>;
  options: Record<string, Record<string, string>>;
  parameters: Record<string, unknown>;
};

/** A length between the two, written in one of the ways a maker writes it. Millimetres. */
const length = (min: number, max: number): fc.Arbitrary<string> =>
  fc.oneof(
    fc.integer({ min, max }).map((v) => `${v} mm`),
    fc.integer({ min, max }).map((v) => `${v / 10} cm`),
    fc.integer({ min, max }).map((v) => `${v / 1000} m`),
    fc
      .integer({ min: Math.ceil((min / 25.4) * 8), max: Math.floor((max / 25.4) * 8) })
      .map((e) => (e % 8 === 0 ? `${e / 8} in` : e > 8 ? `${Math.floor(e / 8)}-${e % 8}/8 in` : `${e % 8}/8 in`)),
  );

const parameters = fc.record({
  W: length(200, 400),
  H: length(180, 400),
  D: length(70, 150),
  R: length(10, 30),
  half: fc.constant('W/2'),
  around: fc.constant('edge(front.bottom) + 2*edge("front.left")'),
  turn: fc.integer({ min: -90, max: 90 }).map((a) => `${a} deg`),
});

const box = fc.constantFrom(
  { rectangle: { width: 'W', height: 'H' } },
  { rectangle: { width: 'W', height: 'H', radius: ['R', 'R', 0, 0] } },
  { rectangle: { width: 'W', height: 'H', radius: ['R', '2*R', 0, '12 mm'] } },
  { trapezoid: { bottom: 'W', top: 'W + 2*R', height: 'H' } },
  {
    outline: [
      { at: [0, 0], edge: 'bottom' },
      { at: ['W', 0], edge: 'right' },
      { at: ['W', 'H'], edge: 'top', rise: 'R' },
      { at: [0, 'H'], edge: 'left' },
    ],
  },
  {
    outline: [
      {
        at: [0, 0],
        edge: 'bottom',
        curve: [
          ['W/3', '-R'],
          ['2*W/3', '-R'],
        ],
      },
      { at: ['W', 0], edge: 'right', radius: 0 },
      { at: ['W', 'H'], edge: 'top', radius: ['R', '2*R'] },
      { at: [0, 'H'], edge: 'left' },
    ],
  },
);

const loose = fc.constantFrom(
  { circle: { diameter: 'D' } },
  { half: [{ at: [0, 0], edge: 'bottom' }, { at: ['half', 0], edge: 'side' }, { at: ['half + R', 'H'], edge: 'mouth' }, { at: [0, 'H - R'] }] },
  { rectangle: { width: 'around', height: 'D' } },
  { rectangle: { width: 'W', height: '2*D', radius: 'R' } },
  { copy: 'front' },
  { mirror: 'front' },
);

const trimmings = fc.record(
  {
    grain: fc.constantFrom<string | number>('turn', '45 deg', 0, '-pi/4 * 1 rad'),
    note: fc.string({ maxLength: 20 }),
    marks: fc.constantFrom({ m: ['R', 'R'] }, { m: ['1/2 in', '1/2 in'], 'upper left': ['2*R', '20 mm'] }),
    pose: fc.constantFrom({ origin: [0, 0, 'H'], x: [0, -1, 0], y: [1, 0, 0] }, { origin: ['1 m', '-3 cm', 0], x: [2, 0, 0], y: [0, 0.5, 0] }),
  },
  { requiredKeys: [] },
);

/** Extras that only suit the big front panel, whatever its outline is. */
const frontOnly = fc.record(
  {
    holes: fc.constantFrom(
      [{ circle: { centre: ['W/2', 'H/2'], diameter: 'R' } }],
      [{ rectangle: { at: ['W/3', 'H/2'], width: '2*R', height: 'R', radius: 'R/2' } }],
    ),
    clips: fc.constantFrom([{ edge: 'bottom' }], [{ edge: 'left[20%..80%]', slope: false }], [{ point: ['W/2', 'H/3'] }, { point: 'left[50%]' }]),
    regions: fc.constantFrom(
      { band: { stack: 's1', above: 'H - R/2' } },
      { core: { stack: 's1', rectangle: { at: ['W/4', 'H/4'], width: 'W/2', height: 'R' } }, low: { stack: 's1', below: 'H/5' } },
      { tape: { stack: 's1', along: 'left[20%..80%]', width: 'R/2' } },
    ),
    lines: fc.constantFrom<object>(
      {
        crease: {
          points: [
            ['W/4', 'H/3'],
            ['3*W/4', 'H/3'],
          ],
          fold: '5 mm',
          angle: '90 deg',
        },
      },
      {
        row: {
          points: [
            ['W/4', 'H/3'],
            ['W/2', 'H/4'],
            ['3*W/4', 'H/3'],
          ],
        },
        scored: {
          points: [
            ['W/3', 'H/5'],
            ['2*W/3', 'H/5'],
          ],
          fold: 0,
        },
      },
    ),
    topstitch: fc.constantFrom([{ along: 'left[10%..90%]', offset: '6 mm' }], [{ along: ['bottom[50%..100%]'], offset: 'R/4', stitch: '1/8 in' }]),
    open: fc.constantFrom(['top'], ['top', 'left']),
    chains: fc.constantFrom({ sides: ['left', 'right'] }),
  },
  { requiredKeys: [] },
);

const layer = (first: boolean): fc.Arbitrary<unknown> => {
  const id = fc.constantFrom(...PRESET_IDS, 'mine');
  if (first) return fc.oneof(id, fc.record({ material: id, angle: fc.constantFrom<string | number>(0, '45 deg', 'turn') }));
  return fc.oneof(
    id.map((m) => ({ loose: m })),
    fc.record({ fused: id, bond: fc.double({ min: 0, max: 1, noNaN: true }) }),
    fc.record({ bonded: id, thickness: fc.constantFrom('1 mm', '5 oz', '3-4 oz', '1/16 in') }),
  );
};
const stack = fc.oneof(
  { weight: 4, arbitrary: fc.tuple(layer(true), fc.array(layer(false), { maxLength: 3 })).map(([a, b]) => [a, ...b]) },
  {
    weight: 1,
    arbitrary: fc.record({ D: fc.integer({ min: 1, max: 90_000 }), C: fc.integer({ min: 1, max: 900 }) }).map(({ D, C }) => ({
      mass: '10 oz/yd2',
      D11: `${D} uN.m`,
      D22: `${D} uN.m`,
      D12: `${D / 5} uN.m`,
      D66: `${D / 3} uN.m`,
      C11: `${C} kN/m`,
      C22: `${C} kN/m`,
      C66: `${C / 3} kN/m`,
      angle: 'turn',
    })),
  },
);

const seam = fc.constantFrom<unknown>(
  ['front.left', 'p0.left'],
  ['front.bottom[10%..60%]', 'back.top'],
  { join: ['front.right', ['back.left', 'back.bottom'], 'back.right'], type: 'bound', allowance: 'R/3' },
  { join: ['back.left[..R]', 'front.right[50%..]'], direction: 'along', gather: 1.5 },
  { join: ['back.top', 'front.bottom'], gather: [{ from: 'back.n 1', to: 'back.n 2', ratio: '3/2' }] },
  {
    join: ['front.bottom', 'back.top'],
    gather: [
      { from: 'back.n 2', to: 'back.n 3', ratio: 2 },
      { from: 'back.n 2', to: 'back.n 1', ratio: 'W/W' },
    ],
  },
  { join: ['front.bottom', 'back.bottom'], hinge: { stiffness: '5 mN', rest: '90 deg' }, direction: 'against', type: 'topstitched' },
);

/** A valid bag file of 3 to 8 panels. */
export const validFile: fc.Arbitrary<File> = fc
  .record({
    slumpline: fc.constant(1),
    name: fc.string({ maxLength: 30 }),
    wanted: fc.constantFrom('slouchy', 'soft', 'structured', 'rigid'),
    parameters,
    front: fc.tuple(box, frontOnly, trimmings).map(([a, b, c]) => ({ ...a, ...b, ...c })),
    back: fc.tuple(box, trimmings).map(([a, b]) => ({ ...a, ...b })),
    p0: fc.tuple(box, trimmings).map(([a, b]) => ({ ...a, ...b })),
    rest: fc.array(
      fc.tuple(loose, fc.constantFrom({}, { role: 'pocket' }, { grain: '30 deg' })).map(([a, b]) => ({ ...a, ...b })),
      { maxLength: 5 },
    ),
    seams: fc.array(seam, { maxLength: 4 }),
    stacks: fc.array(stack, { minLength: 1, maxLength: 3 }),
    straps: fc.constantFrom<object | undefined>(
      undefined,
      { handle: { width: '20 mm', length: 'around', stack: 's1', from: { panel: 'front', 'from left': 'W/4' }, to: 'mirrored', layers: 4 } },
      {
        sling: {
          width: '3/4 in',
          length: '1 m',
          stack: 's1',
          from: { panel: 'front', 'from left': 'half', kind: 'rivet' },
          to: { panel: 'back', 'from right': 'W/3' },
        },
      },
    ),
    stances: fc.constantFrom(undefined, { standing: { friction: 0.3 } }, { held: {}, 'on felt': { kind: 'standing', friction: 0.6 } }),
  })
  .map(({ front, back, p0, rest, seams, straps, stacks, stances, ...head }) => ({
    ...head,
    panels: {
      front,
      back: { ...back, marks: { ...back.marks, ...NOTCHES } },
      p0,
      ...Object.fromEntries(rest.map((p, i) => [`p${i + 1}`, 'copy' in p || 'mirror' in p ? withoutHoles(p) : p])),
    },
    seams: Object.fromEntries(seams.map((s, i) => [`S${i + 1}`, s])),
    materials: { mine: { mass: '339 g/m2', overhang: { warp: '52 mm', weft: ['40 mm', '44 mm', '1 3/4 in'] }, like: 'canvas10', source: 'a strip' } },
    stacks: Object.fromEntries(stacks.map((s, i) => [`s${i + 1}`, s])),
    options: {
      all: { 'every panel': 's1' },
      mixed: {
        'every panel': `s${stacks.length}`,
        front: 's1',
        ...Object.fromEntries(Object.keys(front.regions ?? {}).map((r) => [`front/${r}`, `s${stacks.length}`])),
      },
    },
    ...(straps === undefined ? {} : { straps }),
    ...(stances === undefined ? {} : { stances }),
  }));

const NOTCHES = { 'n 1': 'top[20%]', 'n 2': 'top[50%]', 'n 3': 'top[75%]' };

const withoutHoles = (p: object): object => Object.fromEntries(Object.entries(p).filter(([k]) => k !== 'holes'));

/** A fault to plant: what it does to a file (numbered, so that several do not meet), and the paths that must be reported. */
export interface Plant {
  readonly apply: (file: File, n: number) => void;
  readonly paths: (n: number) => readonly string[];
}

const badPanel = (shape: object, where: string): Plant => ({
  apply: (f, n) => {
    f.panels[`bad${n}`] = shape;
  },
  paths: (n) => [`panels.bad${n}${where}`],
});
const badIn = (section: 'seams' | 'stacks' | 'parameters', value: unknown, where: string): Plant => ({
  apply: (f, n) => {
    f[section][`bad${n}`] = value;
  },
  paths: (n) => [`${section}.bad${n}${where}`],
});

export const PLANTS: readonly Plant[] = [
  badPanel({ rectangle: { width: '-5 mm', height: 'H' } }, '.rectangle.width'),
  badPanel({ rectangle: { width: 'W', height: '7 m' } }, '.rectangle.height'),
  badPanel({ rectangle: { width: '12', height: 'H' } }, '.rectangle.width'),
  badPanel({ rectangle: { width: 'Wdith', height: 'H' } }, '.rectangle.width'),
  badPanel({ rectangle: { width: Number.NaN, height: 'H' } }, '.rectangle.width'),
  badPanel({ rectangle: { width: 'W' } }, '.rectangle.height'),
  badPanel({ circle: { diameter: 'W*W' } }, '.circle.diameter'),
  badPanel({ outline: [{ at: [0, 0] }, { at: ['1 m', '1 m'] }, { at: ['1 m', 0] }, { at: [0, '1 m'] }] }, '.outline'),
  badPanel({ outline: [{ at: [0, 0] }, { at: [0, '1 m'] }, { at: ['1 m', 0] }] }, '.outline'),
  badPanel({ outline: [{ at: [0, 0] }, { at: ['W', 0] }, { at: ['W', 0] }, { at: [0, 'H'] }] }, '.outline[1]'),
  badPanel({ rectangle: { width: 'W', height: 'H' }, clips: [{ edge: 'nowhere' }] }, '.clips[0].edge'),
  badPanel({ rectangle: { width: 'W', height: 'H' }, marks: { m: ['2*W', 0] } }, '.marks.m'),
  badPanel({ rectangle: { width: 'W', height: 'H' }, role: 'lid' }, '.role'),
  badPanel({ rectangle: { width: 'W', height: 'H' }, grain: '45' }, '.grain'),
  badPanel({ rectangle: { width: 'W', height: 'H' }, colour: 'red' }, '.colour'),
  badPanel({ copy: 'nobody' }, '.copy'),
  badPanel({}, ''),
  badIn('seams', ['front.left', 'nobody.left'], '[1]'),
  badIn('seams', ['front.left', 'back.nowhere'], '[1]'),
  badIn('seams', ['front.left'], ''),
  badIn('seams', { join: ['front.left', 'back.left'], allowance: '-1 mm' }, '.allowance'),
  badIn('stacks', ['canvass99'], '[0]'),
  badIn('stacks', [{ material: 'lawn', thickness: '1 m' }], '[0].thickness'),
  badIn('stacks', { mass: '99 kg/m2', D11: '1 N.m', D22: '1 N.m', D66: '1 N.m', C11: '1 N/m', C22: '1 N/m', C66: '1 N/m' }, '.mass'),
  badIn('stacks', { mass: '1 kg/m2', D11: '1', D22: '1 N.m', D66: '1 N.m', C11: '1 N/m', C22: '1 N/m', C66: '1 N/m' }, '.D11'),
  badIn('parameters', '12 furlongs', ''),
  badIn('parameters', 'W +', ''),
  badIn('parameters', null, ''),
  {
    apply: (f, n) => {
      f.parameters[`cycle${n}a`] = `cycle${n}b`;
      f.parameters[`cycle${n}b`] = `cycle${n}a + 1 mm`;
    },
    paths: (n) => [`parameters.cycle${n}b`],
  },
  {
    apply: (f, n) => {
      f.options[`bad${n}`] = { 'every panel': 'nothing' };
    },
    paths: (n) => [`options.bad${n}.every panel`],
  },
];
