import { expect, test } from 'vitest';
import { edgeLength, outlineArea, pointAt, polygonOf } from '../../src/bag/index.ts';
import { polygonArea } from '../../src/numerics/index.ts';
import { panel } from './made.ts';

const perimeter = (edges: readonly Parameters<typeof edgeLength>[0][]) => edges.reduce((sum, e) => sum + edgeLength(e), 0);

const R = 0.03;
/** Length of a parabola of width b and height h: sqrt(b^2 + 16 h^2)/2 + b^2/(8h) ln((4h + sqrt(b^2 + 16 h^2))/b). */
const ROOT = Math.hypot(0.3, 0.6);
const PARABOLA = ROOT / 2 + (0.09 / 1.2) * Math.log((0.6 + ROOT) / 0.3);
const shapes: readonly [string, object, number, number | null][] = [
  ['rectangle 300 x 240', { rectangle: { width: '300 mm', height: '240 mm' } }, 1.08, 0.072],
  [
    'rectangle with four radii of 30',
    { rectangle: { width: '300 mm', height: '240 mm', radius: '30 mm' } },
    1.08 - (8 - 2 * Math.PI) * R,
    0.072 - (4 - Math.PI) * R * R,
  ],
  [
    'rectangle with two rounded bottom corners',
    { rectangle: { width: '300 mm', height: '240 mm', radius: ['30 mm', '30 mm', 0, 0] } },
    1.08 - (4 - Math.PI) * R,
    0.072 - (2 - Math.PI / 2) * R * R,
  ],
  ['stadium 300 x 100', { rectangle: { width: '300 mm', height: '100 mm', radius: '50 mm' } }, 0.4 + Math.PI * 0.1, 0.02 + Math.PI * 0.0025],
  ['circle of 180', { circle: { diameter: '180 mm' } }, Math.PI * 0.18, Math.PI * 0.0081],
  ['trapezoid 200 / 300 x 120', { trapezoid: { bottom: '200 mm', top: '300 mm', height: '120 mm' } }, 0.5 + 2 * 0.13, 0.03],
  ['right triangle 3-4-5', { outline: [{ at: [0, 0] }, { at: ['400 mm', 0] }, { at: [0, '300 mm'] }] }, 1.2, 0.06],
  ['half disc by rise', { outline: [{ at: [0, 0] }, { at: ['200 mm', 0], rise: '100 mm' }] }, 0.2 + Math.PI * 0.1, (Math.PI * 0.01) / 2],
  [
    'half disc by a point on the arc',
    { outline: [{ at: [0, 0] }, { at: ['200 mm', 0], through: ['100 mm', '100 mm'] }] },
    0.2 + Math.PI * 0.1,
    (Math.PI * 0.01) / 2,
  ],
  [
    'square with a hollow side',
    { outline: [{ at: [0, 0] }, { at: ['200 mm', 0] }, { at: ['200 mm', '200 mm'], rise: '-100 mm' }, { at: [0, '200 mm'] }] },
    0.6 + Math.PI * 0.1,
    0.04 - (Math.PI * 0.01) / 2,
  ],
  [
    'parabola under a cubic',
    {
      outline: [
        { at: [0, 0] },
        {
          at: ['300 mm', 0],
          curve: [
            ['200 mm', '200 mm'],
            ['100 mm', '200 mm'],
          ],
        },
      ],
    },
    0.3 + PARABOLA,
    0.03,
  ],
  [
    'L shape with a rounded inner corner',
    {
      outline: [
        { at: [0, 0] },
        { at: ['200 mm', 0] },
        { at: ['200 mm', '100 mm'] },
        { at: ['100 mm', '100 mm'], radius: '30 mm' },
        { at: ['100 mm', '200 mm'] },
        { at: [0, '200 mm'] },
      ],
    },
    0.8 - (2 - Math.PI / 2) * R,
    0.03 + (1 - Math.PI / 4) * R * R,
  ],
  [
    'half of a hexagon unfolded',
    {
      half: [
        { at: [0, 0], edge: 'bottom' },
        { at: ['50 mm', 0], edge: 'lower' },
        { at: ['100 mm', `50 mm * sqrt(3)`], edge: 'upper' },
        { at: ['50 mm', `100 mm * sqrt(3)`], edge: 'top' },
        { at: [0, `100 mm * sqrt(3)`] },
      ],
    },
    0.6,
    (3 * Math.sqrt(3) * 0.01) / 2,
  ],
  [
    'half with a round bottom unfolded',
    {
      half: [
        { at: [0, 0], edge: 'bottom', through: [`100 mm * sin(45 deg)`, `100 mm - 100 mm * cos(45 deg)`] },
        { at: ['100 mm', '100 mm'], edge: 'side' },
        { at: ['100 mm', '200 mm'], edge: 'top' },
        { at: [0, '200 mm'] },
      ],
    },
    0.4 + Math.PI * 0.1,
    0.02 + (Math.PI * 0.01) / 2,
  ],
];

test.each(shapes)('%s: perimeter and area agree with the closed form to 1e-6', (_name, shape, around, inside) => {
  const { outline } = panel(shape);
  const got = perimeter(outline);
  console.log(`perimeter ${got} expected ${around}; area ${outlineArea(outline)} expected ${inside}`);
  expect(Math.abs(got / around - 1)).toBeLessThan(1e-6);
  if (inside !== null) expect(Math.abs(outlineArea(outline) / inside - 1)).toBeLessThan(1e-6);
});

test('edges of a rectangle are bottom, right, top, left, counterclockwise from (0, 0)', () => {
  const { outline } = panel({ rectangle: { width: '300 mm', height: '240 mm' } });
  expect(outline.map((e) => e.name)).toEqual(['bottom', 'right', 'top', 'left']);
  expect(outline[0].from).toEqual([0, 0]);
  expect(outline[2].from).toEqual([0.3, 0.24]);
});

test('a rounding is named after its two edges and touches both', () => {
  const { outline } = panel({ rectangle: { width: '300 mm', height: '240 mm', radius: [0, '30 mm', 0, 0] } });
  expect(outline.map((e) => e.name)).toEqual(['bottom', 'bottom-right', 'right', 'top', 'left']);
  outline.forEach((e, i) => {
    expect(e.to).toEqual(outline[(i + 1) % outline.length].from);
  });
});

test('uneven rounding sets back 30 mm along one edge and 60 mm along the other, tangent to both', () => {
  const { outline } = panel({
    outline: [
      { at: [0, 0], edge: 'bottom' },
      { at: ['200 mm', 0], edge: 'side', radius: ['30 mm', '60 mm'] },
      { at: ['200 mm', '200 mm'], edge: 'top' },
      { at: [0, '200 mm'], edge: 'left' },
    ],
  });
  const corner = outline[1];
  expect(corner).toMatchObject({ name: 'bottom-side', kind: 'cubic' });
  expect(corner.from[0]).toBeCloseTo(0.17, 12);
  expect(corner.to[1]).toBeCloseTo(0.06, 12);
});

test('a half unfolds to halves named left and right, with bottom and top in one piece where they cross the centre straight', () => {
  const { outline, chains } = panel({
    half: [{ at: [0, 0], edge: 'bottom' }, { at: ['80 mm', 0], edge: 'side' }, { at: ['100 mm', '200 mm'], edge: 'mouth' }, { at: [0, '180 mm'] }],
  });
  expect(outline.map((e) => e.name)).toEqual(['bottom', 'side right', 'mouth right', 'mouth left', 'side left']);
  expect(chains).toEqual({ mouth: ['mouth right', 'mouth left'] });
});

test('a mirror image keeps names and lengths and lies in the same box', () => {
  const { bag } = panel(
    {
      outline: [
        { at: [0, 0], edge: 'a' },
        { at: ['100 mm', 0], edge: 'b' },
        { at: ['30 mm', '80 mm'], edge: 'c' },
      ],
    },
    { other: { mirror: 'p' } },
  );
  const [p, other] = bag.panels;
  for (const e of p.outline) expect(edgeLength(other.outline.find((o) => o.name === e.name) as typeof e)).toBeCloseTo(edgeLength(e), 15);
  const xs = polygonOf(other.outline).map((q) => q[0]);
  expect([Math.min(...xs), Math.max(...xs)]).toEqual([0, 0.1]);
  expect(polygonArea(polygonOf(other.outline))).toBeCloseTo(0.004, 12);
});

test('points along arcs and cubics lie at equal steps of arc length to 1e-9', () => {
  const edges = [
    { name: 'a', kind: 'arc', from: [0, 0], to: [0.2, 0], via: [0.1, -0.1] },
    {
      name: 'c',
      kind: 'cubic',
      from: [0, 0],
      to: [0.1, 0.05],
      control: [
        [0.3, 0],
        [-0.2, 0.1],
      ],
    },
  ] as const;
  for (const e of edges) {
    const total = edgeLength(e);
    let walked = 0;
    let previous = pointAt(e, 0);
    const fine = 20000;
    for (let i = 1; i <= fine; i++) {
      const p = pointAt(e, i / fine);
      const step = Math.hypot(p[0] - previous[0], p[1] - previous[1]);
      if (e.kind === 'arc') expect(Math.abs(step * fine - total)).toBeLessThan(1e-6);
      walked += step;
      previous = p;
      if (e.kind === 'cubic' && i === 400) break;
    }
    if (e.kind === 'arc') expect(Math.abs(walked - total)).toBeLessThan(1e-8);
    else expect(Math.abs(walked - (400 / fine) * total)).toBeLessThan(1e-9);
  }
});
