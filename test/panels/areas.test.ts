import { describe, expect, it } from 'vitest';
import { curveOf, edgeLength, flatten, outlineArea, pointAt } from '../../src/bag/curve.ts';
import type { OutlineEdge, Point2 } from '../../src/bag/types.ts';
import { polygonArea } from '../../src/numerics/index.ts';
import { draftPanel } from '../../src/panels/outline.ts';
import { arc, cubic, flatPanel, line, polygon, regular, rounded } from './shapes.ts';

const { PI, SQRT1_2, asinh, sqrt } = Math;
const r = 0.17;

/** Arc through the lowest point of a circle segment of half angle q and radius R, chord on y = 0. */
function segment(R: number, q: number): OutlineEdge[] {
  const [half, sag] = [R * Math.sin(q), R * (1 - Math.cos(q))];
  return [arc([-half, 0], [0, -sag], [half, 0], 'low'), line([half, 0], [-half, 0], 'chord')];
}

/** Lune: outer arc of radius R over a half disc, inner arc of sag s back. */
function lune(): { outline: OutlineEdge[]; area: number; perimeter: number } {
  const R = 0.2;
  const s = 0.08;
  const inner = (R * R + s * s) / (2 * s);
  const q = Math.asin(R / inner);
  return {
    outline: [arc([-R, 0], [0, -R], [R, 0], 'low'), arc([R, 0], [0, -s], [-R, 0], 'mouth')],
    area: (PI * R * R) / 2 - (inner * inner * (2 * q - Math.sin(2 * q))) / 2,
    perimeter: PI * R + 2 * q * inner,
  };
}

// Parabola y = x^2 / 4 over -1 <= x <= 1: arc length sqrt(5)/2 + 2 asinh(1/2), as a cubic by degree elevation.
const parabola: OutlineEdge[] = [cubic([-1, 0.25], [-1 / 3, -1 / 12], [1 / 3, -1 / 12], [1, 0.25], 'bow'), line([1, 0.25], [-1, 0.25], 'chord')];
// Loop x = t - t^3/3, y = t^2, |t| <= sqrt 3: a Pythagorean-hodograph cubic of speed 1 + t^2.
const a = sqrt(3);
const loop: OutlineEdge[] = [
  cubic([0, 3], [0 + ((1 - 3) * 2 * a) / 3, 3 - (2 * a * 2 * a) / 3], [0 - ((1 - 3) * 2 * a) / 3, 3 - (2 * a * 2 * a) / 3], [0, 3], 'loop'),
];

/** A square of 0.3 m with one of 0.05 m cut from its lower left corner. */
const BOXED_CORNER: Point2[] = [
  [0.05, 0],
  [0.3, 0],
  [0.3, 0.3],
  [0, 0.3],
  [0, 0.05],
  [0.05, 0.05],
];

const shapes: [string, OutlineEdge[], OutlineEdge[][], number, number][] = [
  [
    'rectangle 300 x 240 mm',
    polygon([
      [0, 0],
      [0.3, 0],
      [0.3, 0.24],
      [0, 0.24],
    ]),
    [],
    0.072,
    1.08,
  ],
  [
    'right triangle 3-4-5',
    polygon([
      [0, 0],
      [0.4, 0],
      [0, 0.3],
    ]),
    [],
    0.06,
    1.2,
  ],
  [
    'equilateral triangle',
    polygon([
      [0, 0],
      [0.2, 0],
      [0.1, 0.1 * sqrt(3)],
    ]),
    [],
    0.01 * sqrt(3),
    0.6,
  ],
  [
    'trapezoid 0.3 / 0.2 x 0.12',
    polygon([
      [0, 0],
      [0.3, 0],
      [0.25, 0.12],
      [0.05, 0.12],
    ]),
    [],
    0.03,
    0.5 + 0.26,
  ],
  [
    'parallelogram',
    polygon([
      [0, 0],
      [0.2, 0],
      [0.29, 0.12],
      [0.09, 0.12],
    ]),
    [],
    0.024,
    0.7,
  ],
  ['regular hexagon', polygon(regular(6, r)), [], 1.5 * sqrt(3) * r * r, 6 * r],
  ['L, a boxed corner cut from a square', polygon(BOXED_CORNER), [], 0.09 - 0.0025, 1.2],
  ['disc of two arcs', [arc([r, 0], [0, r], [-r, 0]), arc([-r, 0], [0, -r], [r, 0], 'b')], [], PI * r * r, 2 * PI * r],
  [
    'disc of four arcs',
    [0, 1, 2, 3].map((k) =>
      arc(
        [r * Math.cos((k * PI) / 2), r * Math.sin((k * PI) / 2)],
        [r * Math.cos((k * PI) / 2 + PI / 4), r * Math.sin((k * PI) / 2 + PI / 4)],
        [r * Math.cos(((k + 1) * PI) / 2), r * Math.sin(((k + 1) * PI) / 2)],
        `q${k}`,
      ),
    ),
    [],
    PI * r * r,
    2 * PI * r,
  ],
  ['disc of one closed arc', [arc([r, 0], [-r, 0], [r, 0])], [], PI * r * r, 2 * PI * r],
  ['half disc', [arc([-r, 0], [0, -r], [r, 0]), line([r, 0], [-r, 0])], [], (PI * r * r) / 2, (PI + 2) * r],
  [
    'quarter disc',
    [line([0, 0], [r, 0]), arc([r, 0], [r * SQRT1_2, r * SQRT1_2], [0, r], 'c'), line([0, r], [0, 0], 'l')],
    [],
    (PI * r * r) / 4,
    (PI / 2 + 2) * r,
  ],
  [
    'three-quarter disc',
    [line([0, 0], [r, 0]), arc([r, 0], [-r * SQRT1_2, r * SQRT1_2], [0, -r], 'c'), line([0, -r], [0, 0], 'l')],
    [],
    0.75 * PI * r * r,
    (1.5 * PI + 2) * r,
  ],
  [
    'stadium',
    [line([0, 0], [0.2, 0]), arc([0.2, 0], [0.2 + r, r], [0.2, 2 * r], 'c'), line([0.2, 2 * r], [0, 2 * r], 't'), arc([0, 2 * r], [-r, r], [0, 0], 'd')],
    [],
    0.4 * r + PI * r * r,
    0.4 + 2 * PI * r,
  ],
  ['rounded rectangle, R 50', rounded(0.33, 0.254, 0.05), [], 0.33 * 0.254 - (4 - PI) * 0.0025, 2 * (0.33 + 0.254) - (8 - 2 * PI) * 0.05],
  ['circle segment', segment(0.3, 0.8), [], (0.09 * (1.6 - Math.sin(1.6))) / 2, 0.48 + 0.6 * Math.sin(0.8)],
  ['crescent of two arcs', lune().outline, [], lune().area, lune().perimeter],
  [
    'ring',
    [arc([r, 0], [-r, 0], [r, 0])],
    [[arc([0.1, 0], [0, -0.1], [-0.1, 0], 'h1'), arc([-0.1, 0], [0, 0.1], [0.1, 0], 'h2')]],
    PI * (r * r - 0.01),
    2 * PI * r,
  ],
  ['parabola segment', parabola, [], 2 / 6, sqrt(5) / 2 + 2 * asinh(0.5) + 2],
  ['looped cubic', loop, [], 1.6 * sqrt(3), 4 * sqrt(3)],
];

describe('areas and perimeters of 20 shapes against closed forms', () => {
  it.each(shapes)('%s', (_name, outline, holes, area, perimeter) => {
    const panel = draftPanel(flatPanel(outline, holes));
    console.log(
      `area ${panel.area} m2, expected ${area}; perimeter ${panel.perimeter} m, expected ${perimeter}; tolerance 1e-9 relative (closed forms; cubics by quadrature to 1e-10)`,
    );
    expect(Math.abs(panel.area / area - 1)).toBeLessThan(1e-9);
    expect(Math.abs(panel.perimeter / perimeter - 1)).toBeLessThan(1e-9);
    expect(panel.crossings).toEqual([]);
  });
});

describe('curves', () => {
  it('a cubic with a cusp, x = t^2, y = t^3, has length (13^1.5 - 8)/27 to 1e-10', () => {
    const curve = curveOf(cubic([0, 0], [0, 0], [1 / 3, 0], [1, 1]));
    const expected = (13 ** 1.5 - 8) / 27;
    console.log(`length ${curve.length}, expected ${expected}, tolerance 1e-10`);
    expect(Math.abs(curve.length - expected)).toBeLessThan(1e-10);
  });

  it('places on a cubic are equally spaced by arc length to 1e-9', () => {
    const curve = curveOf(loop[0]);
    // s(t) = t + t^3/3 from -sqrt 3: half the length is at t = 0, the point (0, 0).
    expect(Math.hypot(...curve.at(0.5))).toBeLessThan(1e-9);
    const t = 1;
    const share = (t + t ** 3 / 3 + 2 * a) / (4 * a);
    const [x, y] = curve.at(share);
    expect(Math.hypot(x - (t - t ** 3 / 3), y - t * t)).toBeLessThan(1e-9);
  });

  it('every question of an arc whose ends coincide is answered for the same full circle, counterclockwise: length, places, area to 1e-12', () => {
    const whole = arc([0.3, 0.1], [0.1, 0.1], [0.3, 0.1]);
    expect(edgeLength(whole)).toBe(curveOf(whole).length);
    expect(edgeLength(whole)).toBeCloseTo(0.2 * PI, 12);
    expect(outlineArea([whole])).toBeCloseTo(0.01 * PI, 12);
    const [x, y] = pointAt(whole, 0.25);
    expect(Math.hypot(x - 0.2, y - 0.2), `a quarter round: [${x}, ${y}]`).toBeLessThan(1e-12);
    // A polygon of n corners on the circle has n/2 r^2 sin(2 pi/n).
    const n = flatten(whole).length;
    expect(polygonArea(flatten(whole))).toBeCloseTo((n / 2) * 0.01 * Math.sin((2 * PI) / n), 12);
  });

  it('an arc keeps its ends to the last bit and its tangents at a right angle to the radius', () => {
    const curve = curveOf(arc([0.3, 0.1], [0.42, 0.27], [0.31, 0.4]));
    expect(curve.at(0)).toEqual([0.3, 0.1]);
    expect(curve.at(1)).toEqual([0.31, 0.4]);
    const [p, q] = [curve.at(0.4999999), curve.at(0.5000001)];
    const [tx, ty] = curve.tangent(0.5);
    expect(Math.hypot(tx, ty)).toBeCloseTo(1, 12);
    expect((q[0] - p[0]) * ty - (q[1] - p[1]) * tx).toBeCloseTo(0, 12);
    expect(Math.hypot(q[0] - p[0], q[1] - p[1]) / (2e-7 * curve.length)).toBeCloseTo(1, 6);
  });

  it('corner angles of a convex outline add up to (n - 2) pi, of a boxed corner to 270 deg inside', () => {
    const hexagon = draftPanel(flatPanel(polygon(regular(6, 1))));
    expect(hexagon.cornerAngle.reduce((s, c) => s + c, 0)).toBeCloseTo(4 * PI, 12);
    const boxed = draftPanel(flatPanel(polygon(BOXED_CORNER)));
    expect(boxed.cornerAngle[5]).toBeCloseTo(1.5 * PI, 12);
  });

  it('finds an outline that crosses itself, and a hole that cuts the outline', () => {
    expect(
      draftPanel(
        flatPanel(
          polygon([
            [0, 0],
            [1, 1],
            [1, 0],
            [0, 1],
          ]),
        ),
      ).crossings.length,
    ).toBeGreaterThan(0);
    expect(
      draftPanel(
        flatPanel(
          polygon([
            [0, 0],
            [1, 0],
            [1, 1],
            [0, 1],
          ]),
          [[arc([1.1, 0.5], [0.9, 0.5], [1.1, 0.5], 'hole')]],
        ),
      ).crossings.length,
    ).toBeGreaterThan(0);
    expect(draftPanel(flatPanel([cubic([0, 0], [2, 1], [-1, 1], [1, 0]), line([1, 0], [0, 0])])).crossings).toContainEqual(['cubic', 'cubic']);
  });

  it('refuses an edge of no length', () => {
    expect(() => draftPanel(flatPanel([line([0, 0], [0, 0]), line([0, 0], [1, 0], 'b')]))).toThrow(/length/);
  });
});
