import { expect, test } from 'vitest';
import { parseBag } from '../../src/bag/index.ts';
import { faultsOf, file, RECTANGLE } from './made.ts';

/** Exactly one fault, at this path, with these words in what was expected or got. */
function one(source: unknown, path: string, words: string): void {
  const faults = faultsOf(source);
  expect(faults.map((f) => `${f.path}: ${f.got}; ${f.expected}`).join('\n')).toContain(words);
  expect(faults.map((f) => f.path)).toEqual([path]);
}

const rect = (width: unknown, height: unknown = '240 mm') => ({ rectangle: { width, height } });

test.each<[string, unknown, string, string]>([
  ['missing unit', rect('300'), 'panels.p.rectangle.width', 'the unit is missing'],
  ['bare number', rect(300), 'panels.p.rectangle.width', 'the unit is missing'],
  ['decimal comma', rect('1,3 mm'), 'panels.p.rectangle.width', 'a point for decimals, "1.3 mm"'],
  ['NaN', rect(Number.NaN), 'panels.p.rectangle.width', 'a figure with its unit'],
  ['Infinity', rect(Number.POSITIVE_INFINITY), 'panels.p.rectangle.width', 'a figure with its unit'],
  ['negative length', rect('-300 mm'), 'panels.p.rectangle.width', 'more than 0 mm'],
  ['absurd length', rect('6 m'), 'panels.p.rectangle.width', 'at most 5000 mm'],
  ['unknown unit', rect('300 furlongs'), 'panels.p.rectangle.width', 'a unit (mm, cm, m, in, ft, yd, deg), one of + - * / or the end in place of "furlongs"'],
  ['area for a length', rect('1 m * 1 m'), 'panels.p.rectangle.width', 'not an area'],
  ['angle for a length', rect('30 deg'), 'panels.p.rectangle.width', 'not an angle'],
  ['misspelt parameter', rect('Widht'), 'panels.p.rectangle.width', 'did you mean "Width"'],
  ['no shape', {}, 'panels.p', 'exactly one of rectangle'],
  ['two shapes', { ...RECTANGLE, circle: { diameter: '1 m' } }, 'panels.p', 'exactly one of rectangle'],
  ['wrong type', { rectangle: 'big' }, 'panels.p.rectangle', 'an object'],
  ['unknown entry', { ...RECTANGLE, grian: 0 }, 'panels.p.grian', 'did you mean "grain"'],
  ['radius too large', { rectangle: { width: '50 mm', height: '240 mm', radius: '30 mm' } }, 'panels.p.rectangle', 'radii that take 60 mm'],
  [
    'zero-length edge',
    { outline: [{ at: [0, 0] }, { at: ['1 m', 0] }, { at: ['1 m', 0] }, { at: [0, '1 m'] }] },
    'panels.p.outline[1]',
    'an edge "edge2" of 0 mm',
  ],
  ['clockwise', { outline: [{ at: [0, 0] }, { at: [0, '1 m'] }, { at: ['1 m', 0] }] }, 'panels.p.outline', 'counterclockwise'],
  ['bow tie', { outline: [{ at: [0, 0] }, { at: ['1 m', '1 m'] }, { at: ['1 m', 0] }, { at: [0, '1 m'] }] }, 'panels.p.outline', 'near [500 mm, 500 mm]'],
  ['spike', { outline: [{ at: [0, 0] }, { at: ['2 m', 0] }, { at: ['1 m', 0] }, { at: ['1 m', '1 m'] }] }, 'panels.p.outline', 'meets itself'],
  [
    'cubic loop',
    {
      outline: [
        {
          at: [0, 0],
          curve: [
            ['2 m', '1 m'],
            ['-1 m', '1 m'],
          ],
        },
        { at: ['1 m', 0] },
        { at: ['1 m', '2 m'] },
        { at: [0, '2 m'] },
      ],
    },
    'panels.p.outline',
    'meets itself',
  ],
  ['two corners', { outline: [{ at: [0, 0] }, { at: ['1 m', 0] }] }, 'panels.p.outline', 'at least three corners'],
  ['same edge name', { outline: [{ at: [0, 0], edge: 'a' }, { at: ['1 m', 0], edge: 'a' }, { at: [0, '1 m'] }] }, 'panels.p.outline', 'two edges called "a"'],
  [
    'arc on its chord',
    { outline: [{ at: [0, 0], through: ['500 mm', 0] }, { at: ['1 m', 0] }, { at: [0, '1 m'] }] },
    'panels.p.outline[0]',
    'off the straight line',
  ],
  [
    'arc that ends where it begins',
    { outline: [{ at: [0, 0], through: ['500 mm', '-100 mm'] }, { at: [0, 0] }, { at: ['1 m', 0] }, { at: [0, '1 m'] }] },
    'panels.p.outline[0]',
    'two different ends',
  ],
  ['radius of nothing', { rectangle: { width: '50 mm', height: '240 mm', radius: '1e-30 mm' } }, 'panels.p.rectangle', 'a radius of 0 for a sharp corner'],
  [
    'radius of a nanometre',
    { outline: [{ at: [0, 0], radius: '1e-6 mm' }, { at: ['1 m', 0] }, { at: [0, '1 m'] }] },
    'panels.p.outline[0]',
    'at least 0.001 mm',
  ],
  [
    'radius beside an arc',
    { outline: [{ at: [0, 0], rise: '10 mm' }, { at: ['1 m', 0], radius: '10 mm' }, { at: [0, '1 m'] }] },
    'panels.p.outline[1]',
    'between two straight edges',
  ],
  ['hole outside', { ...RECTANGLE, holes: [{ circle: { centre: ['1 m', 0], diameter: '20 mm' } }] }, 'panels.p.holes[0]', 'inside the outline'],
  ['mark outside', { ...RECTANGLE, marks: { m: ['301 mm', 0] } }, 'panels.p.marks.m', 'inside the panel'],
  ['mark beyond its edge', { ...RECTANGLE, marks: { m: 'top[150%]' } }, 'panels.p.marks.m', 'inside the edge'],
  ['clip on nothing', { ...RECTANGLE, clips: [{ edge: 'botom' }] }, 'panels.p.clips[0].edge', 'did you mean "bottom"'],
  ['clip backwards', { ...RECTANGLE, clips: [{ edge: 'top[60%..40%]' }] }, 'panels.p.clips[0].edge', 'from before to'],
  ['unknown opening', { ...RECTANGLE, open: ['tpo'] }, 'panels.p.open[0]', 'an edge of this panel'],
  [
    'region outside',
    { ...RECTANGLE, regions: { r: { stack: 'plain', rectangle: { width: '1 m', height: '10 mm' } } } },
    'panels.p.regions.r.rectangle',
    'leaves the panel',
  ],
  ['region of no area', { ...RECTANGLE, regions: { r: { stack: 'plain', above: '240 mm' } } }, 'panels.p.regions.r.above', 'some area'],
  ['region margin too wide', { ...RECTANGLE, regions: { r: { stack: 'plain', inside: '200 mm' } } }, 'panels.p.regions.r.inside', 'some area'],
  ['oblique pose', { ...RECTANGLE, pose: { origin: [0, 0, 0], x: [1, 0, 0], y: [1, 1, 0] } }, 'panels.p.pose.y', 'right angle'],
  ['copy of nothing', { copy: 'q' }, 'panels.p.copy', 'a panel of this bag'],
  ['copy of itself', { copy: 'p' }, 'panels.p.copy', 'depend on itself'],
  ['half off the centre', { half: [{ at: ['1 mm', 0] }, { at: ['100 mm', 0] }, { at: [0, '100 mm'] }] }, 'panels.p.half', 'x = 0'],
])('%s is one fault at its path', (_what, shape, path, words) => {
  one(file(shape as object, {}, { parameters: { Width: '300 mm' } }), path, words);
});

test.each<[string, object, string, string]>([
  ['unknown panel in a seam', { seams: { A: ['p.top', 'frnt.top'] } }, 'seams.A[1]', 'a panel of this bag'],
  ['unknown edge in a seam', { seams: { A: ['p.top', 'p.bottm'] } }, 'seams.A[1]', 'did you mean "bottom"'],
  ['seam with one side', { seams: { A: ['p.top'] } }, 'seams.A', 'at least two sides'],
  ['seam of an edge with itself', { seams: { A: ['p.top', 'p.top'] } }, 'seams.A[1]', 'once in a seam'],
  ['seam type', { seams: { A: { join: ['p.top', 'p.bottom'], type: 'glued' } } }, 'seams.A.type', 'plain, turned'],
  ['allowance', { seams: { A: { join: ['p.top', 'p.bottom'], allowance: '200 mm' } } }, 'seams.A.allowance', 'at most 100 mm'],
  ['circle of formulas', { parameters: { A: 'B + 1 mm', B: '2*C', C: 'A' } }, 'parameters.C', 'A -> B -> C -> A'],
  [
    'formula and its own panel',
    { parameters: { L: 'edge(q.left)' }, panels: { p: RECTANGLE, q: { rectangle: { width: '1 m', height: 'L' } } } },
    'panels.q.rectangle.height',
    'L -> panel q -> L',
  ],
  ['parameter called like a unit', { parameters: { mm: '3 mm' } }, 'parameters.mm', 'no unit'],
  ['duck number', { materials: { m: { like: 'canvas10', mass: 'duck 14' } } }, 'materials.m.mass', '1 to 12'],
  ['absurd mass', { materials: { m: { like: 'canvas10', mass: '25 kg/m2' } } }, 'materials.m.mass', 'at most 20000 g/m2'],
  ['mass without unit', { materials: { m: { like: 'canvas10', mass: 300 } } }, 'materials.m.mass', 'the unit is missing'],
  ['unknown model', { materials: { m: { like: 'canvas', mass: '1 kg/m2' } } }, 'materials.m.like', 'a built-in material'],
  ['incomplete material', { materials: { m: { mass: '1 kg/m2' } } }, 'materials.m', 'overhang, bending or swatches, thickness, in-plane, shear'],
  [
    'bands out of order',
    { materials: { m: { like: 'lawn', mass: '1 kg/m2', bending: ['3 uN.m', '2 uN.m', '4 uN.m'] } } },
    'materials.m.bending',
    'rising order',
  ],
  ['material named like a preset', { materials: { lawn: { like: 'muslin', mass: '1 kg/m2' } } }, 'materials.lawn', 'no built-in material'],
  ['unknown material', { stacks: { plain: ['canvas10', { fused: 'flece' }] } }, 'stacks.plain[1].fused', 'did you mean "fleece"'],
  ['empty stack', { stacks: { plain: [] } }, 'stacks.plain', 'one to twenty layers'],
  ['layer without material', { stacks: { plain: [{ thickness: '1 mm' }] } }, 'stacks.plain[0]', 'exactly one of material'],
  ['bond on a loose layer', { stacks: { plain: ['canvas10', { loose: 'lawn', bond: 0.4 }] } }, 'stacks.plain[1].bond', 'only on a fused layer'],
  [
    'negative rigidity',
    { stacks: { plain: { mass: '1 kg/m2', D11: '-1 N.m', D22: '1 N.m', D66: '1 N.m', C11: '1 N/m', C22: '1 N/m', C66: '1 N/m' } } },
    'stacks.plain.D11',
    'more than 0',
  ],
  [
    'impossible coupling',
    { stacks: { plain: { mass: '1 kg/m2', D11: '1 N.m', D22: '1 N.m', D12: '1 N.m', D66: '1 N.m', C11: '1 N/m', C22: '1 N/m', C66: '1 N/m' } } },
    'stacks.plain.D12',
    'geometric mean',
  ],
  ['unknown stack in an option', { options: { o: { 'every panel': 'plian' } } }, 'options.o.every panel', 'did you mean "plain"'],
  ['option without a stack', { options: { o: {} } }, 'options.o', 'no stack for p'],
  ['friction', { stances: { standing: { friction: -1 } } }, 'stances.standing.friction', 'from 0 to 3'],
  ['look', { wanted: 'structurd' }, 'wanted', 'did you mean "structured"'],
  ['unknown section', { panles: {} }, 'panles', 'did you mean "panels"'],
  ['no panels', { panels: {} }, 'panels', 'at least one panel'],
  ['no stacks', { stacks: {} }, 'stacks', 'at least one stack'],
  ['bad name', { panels: { p: RECTANGLE, '1st': RECTANGLE } }, 'panels.1st', 'starts with a letter'],
  ['section of the wrong type', { seams: [] }, 'seams', 'an object'],
])('%s is one fault at its path', (_what, more, path, words) => {
  one({ ...file(RECTANGLE), ...more }, path, words);
});

test.each<[string, unknown, string, string]>([
  ['no object', '[]', 'file', 'an object'],
  ['empty text', '', 'line 1, column 1', 'the end of the file'],
  ['truncated', '{"slumpline": 1,\n "panels": {"p": {"rect', 'line 2, column 19', 'a closing double quote'],
  ['missing comma', '{"slumpline": 1\n "panels": {}}', 'line 2, column 2', '"," or "}"'],
  ['no version', '{}', 'slumpline', 'the version'],
  ['later version', '{"slumpline": 2}', 'slumpline', 'the only version'],
  ['repeated key', '{"slumpline": 1, "panels": {"p": {}, "p": {}}}', 'panels.p', 'each key once'],
  ['too deep', `${'['.repeat(100)}`, 'line 1, column 66', 'at most 64 levels'],
  ['nothing', null, 'file', 'an object'],
  ['a number', 7, 'file', 'an object'],
])('text: %s', (_what, text, path, words) => {
  one(text, path, words);
});

// Work that grows with the square of these lengths would outlast the runner's limit for a test by far.
test('a file over 2 MB and a file of 10 000 panels are refused with one fault each', () => {
  one(`{"slumpline": 1, "note": "${'x'.repeat(2_100_000)}"}`, 'file', 'at most 2000000');
  const panels = Object.fromEntries(Array.from({ length: 10_000 }, (_, i) => [`p${i}`, RECTANGLE]));
  one({ ...file(RECTANGLE), panels }, 'panels', '10000 panels');
});

test('a file with thirteen faults in different sections reports all thirteen at once', () => {
  const faults = faultsOf({
    slumpline: 1,
    wanted: 'stiff',
    parameters: { W: '300', A: 'B', B: 'A', H: 'Hight' },
    panels: {
      front: { rectangle: { width: '-1 mm', height: '6 m' } },
      back: { outline: [{ at: [0, 0] }, { at: ['1 m', '1 m'] }, { at: ['1 m', 0] }, { at: [0, '1 m'] }], role: 'rear' },
      base: { ...RECTANGLE, marks: { m: ['2 m', 0] } },
    },
    seams: { A: ['base.top', 'bace.top'], B: ['base.left', 'base.rigth'] },
    stacks: { plain: ['canvas1O'] },
    options: { o: { 'every panel': 'plane' } },
    stances: { standing: { friction: 9 } },
  });
  const paths = faults.map((f) => f.path).sort();
  expect(paths).toEqual(
    [
      'options.o.every panel',
      'panels.back.outline',
      'panels.back.role',
      'panels.base.marks.m',
      'panels.front.rectangle.height',
      'panels.front.rectangle.width',
      'parameters.B',
      'parameters.H',
      'seams.A[1]',
      'seams.B[1]',
      'stacks.plain[0]',
      'stances.standing.friction',
      'wanted',
    ].sort(),
  );
});

test('keys that exist on every object are names like any other: constructor, toString, __proto__', () => {
  const bad =
    '{"slumpline": 1, "panels": {"__proto__": {"rectangle": {"width": "1 m", "height": "1 m"}}}, "stacks": {"constructor": ["toString"]}, "constructor": 1}';
  const paths = faultsOf(bad).map((f) => f.path);
  expect(paths).toContain('constructor');
  expect(paths).toContain('stacks.constructor[0]');
  expect(paths.some((p) => p.includes('__proto__'))).toBe(true);
});

test('hostile texts end in faults: long runs of spaces and figures, a thousand chained formulas, 4000 corners', () => {
  const blank = ' '.repeat(200_000);
  const faults = faultsOf({
    slumpline: 1,
    parameters: Object.fromEntries(Array.from({ length: 1000 }, (_, i) => [`q${i}`, `q${i + 1} + 1 mm`])),
    panels: { p: { rectangle: { width: `${blank}x`, height: '1 m' } }, q: { ...RECTANGLE, marks: { m: `${blank}[` } } },
    seams: { s: [blank, `p.${blank}[`] },
    stacks: {
      a: [{ material: 'lawn', thickness: `${blank}x` }],
      b: { mass: `duck${blank}x`, D11: `${'9'.repeat(100_000)}x`, D22: '1 N.m', D66: '1 N.m', C11: '1 N/m', C22: '1 N/m', C66: '1 N/m' },
    },
  });
  expect(faults.length).toBeGreaterThan(6);
  const corners = Array.from({ length: 500 }, (_, i) => ({ at: [`${i} mm`, 0] }));
  one(
    { ...file(RECTANGLE), panels: Object.fromEntries(Array.from({ length: 9 }, (_, i) => [`p${i}`, { outline: corners }])) },
    'panels',
    '4500 corners in all',
  );
});

test('a parameter that is no size is told what one looks like first, then which parameters there are besides itself', () => {
  const found = faultsOf(file(rect('W', 'H'), {}, { parameters: { W: '300 mm', H: 'banana' } }));
  expect(found).toEqual([
    { path: 'parameters.H', got: '"banana"', expected: 'a length with its unit, such as "12 mm" or "12 3/8 in", or a parameter of this bag: W' },
  ]);
});

test('a parameter of 20 m is 1 fault: what is written with it does not repeat it', () => {
  const found = faultsOf(file(rect('W', 'tall'), { q: rect('H', 'girth') }, { parameters: { tall: 'H', W: '300 mm', H: '20 m', girth: '2*H' } }));
  expect(found.map((f) => f.path)).toEqual(['parameters.H']);
});

test('labels: those of no parameter, empty ones and too long ones are told with their path; a sound one comes with its parameter', () => {
  const labelled = (labels: unknown) => ({ ...file(RECTANGLE), parameters: { dip: '10 mm' }, labels });
  one(labelled({ dpi: 'Mouth dip' }), 'labels.dpi', 'did you mean "dip"');
  one(labelled({ dip: ' ' }), 'labels.dip', 'a few words');
  one(labelled({ dip: 'x'.repeat(61) }), 'labels.dip', 'at most 60 characters');
  one(labelled('Mouth dip'), 'labels', 'an object');
  one({ ...file(RECTANGLE), labels: { dip: 'Mouth dip' } }, 'labels.dip', 'there is none');
  expect(parseBag(labelled({ dip: 'Mouth dip' })).parameters[0].label).toBe('Mouth dip');
});
