/** Random bag files that a maker could cut and sew, from one seed each: ten kinds of body, trimmed with lines, holes, regions, options and notches. */
import { polygonOf } from '../../src/bag/curve.ts';
import { parseBag } from '../../src/bag/index.ts';
import type { Panel, Point2 } from '../../src/bag/types.ts';
import { distanceToPolygon, insidePolygon } from '../../src/numerics/index.ts';
import { seeded } from '../../src/numerics/random.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import type { DraftLine } from '../../src/panels/types.ts';
import { randomBag } from '../mesh/random-bags.ts';

type Form = Record<string, unknown>;
export interface Sewable {
  readonly kind: string;
  readonly file: Form;
}
const mm = (v: number): string => `${v.toFixed(3)} mm`;
const STACKS = { cloth: ['canvas10'], stiff: ['canvas10', { fused: 'fus_heavy' }], board: ['canvas8', { loose: 'pp1' }] };

export function sewable(seed: number): Sewable {
  const r = seeded(7919 * seed + 11);
  const own = Math.floor(r() * 10);
  const body = own === 0 ? uneven(r) : own === 1 ? bunched(r) : randomBag(seed);
  const plain = {
    slumpline: 1,
    name: `bag ${seed}`,
    wanted: 'soft',
    panels: body.panels,
    seams: body.seams,
    stacks: STACKS,
    options: { all: { 'every panel': 'cloth' } },
  };
  const bag = parseBag(structuredClone(plain));
  const draft = draftPanels(bag);
  const regions: Record<string, string> = {};
  const panels = Object.fromEntries(
    Object.entries(body.panels as Record<string, Form>).map(([name, form], p) => [
      name,
      'mirror' in form ? form : { ...form, ...trimmings(r, name, bag.panels[p], draft.lines[p], regions) },
    ]),
  );
  const named = Object.fromEntries(
    Object.keys(regions)
      .filter(() => r() < 0.6)
      .map((region) => [region, 'stiff']),
  );
  return {
    kind: body.kind,
    file: {
      ...plain,
      panels,
      options: { all: { 'every panel': 'cloth' }, boarded: { 'every panel': 'stiff', ...named } },
      stances: { standing: { friction: 0.4 } },
    },
  };
}

/** A place of a panel at least `clear` from its outline, or null after a few tries. */
const clearOf = (q: Point2, lines: readonly (readonly Point2[])[], by: number): boolean => lines.every((line) => distanceToPolygon(q, line) > by);

function placeIn(r: () => number, outline: readonly Point2[], clear: number, lines: readonly (readonly Point2[])[]): Point2 | null {
  const [xs, ys] = [outline.map((q) => q[0]), outline.map((q) => q[1])];
  for (let i = 0; i < 12; i++) {
    const q: Point2 = [Math.min(...xs) + r() * (Math.max(...xs) - Math.min(...xs)), Math.min(...ys) + r() * (Math.max(...ys) - Math.min(...ys))];
    if (insidePolygon(q, outline) && clearOf(q, [outline, ...lines], clear)) return q;
  }
  return null;
}

function trimmings(r: () => number, name: string, panel: Panel, drawn: readonly DraftLine[], regions: Record<string, string>): Form {
  const outline = polygonOf(panel.outline);
  const [low, high] = [Math.min(...outline.map((q) => q[1])), Math.max(...outline.map((q) => q[1]))];
  const [left, right] = [Math.min(...outline.map((q) => q[0])), Math.max(...outline.map((q) => q[0]))];
  const out: Form = {};
  if (r() < 0.3) out.grain = `${Math.round(-90 + 180 * r())} deg`;
  // Lines that run closer to one another than a mesh edge, or meet at a few degrees, leave no room for a sound triangle.
  const lines: Point2[][] = drawn.map((line) => [...line.points]);
  if (r() < 0.45) {
    const kind = Math.floor(r() * 3);
    const at = placeIn(r, outline, 0.05, lines);
    const level = low + (0.2 + 0.6 * r()) * (high - low);
    const shape =
      kind === 0
        ? { above: mm(1000 * level) }
        : kind === 1
          ? { below: mm(1000 * level) }
          : at && { rectangle: { at: at.map((c) => mm(1000 * (c - 0.02))), width: '40 mm', height: '40 mm' } };
    if (shape) {
      out.regions = { part: { stack: 'board', ...shape } };
      regions[`${name}/part`] = 'board';
      const square = (d: number, e: number): Point2 => [(at?.[0] ?? 0) + d, (at?.[1] ?? 0) + e];
      lines.push(
        kind < 2
          ? [
              [left - 1, level],
              [right + 1, level],
            ]
          : [square(-0.02, -0.02), square(0.02, -0.02), square(0.02, 0.02), square(-0.02, 0.02)],
      );
    }
  }
  if (r() < 0.35) {
    const y = low + (0.2 + 0.6 * r()) * (high - low);
    const fold = [undefined, '0 mm', '5 mm'][Math.floor(r() * 3)];
    const [a, b] = [left + 0.3 * (right - left), left + 0.7 * (right - left)];
    const points: Point2[] = [
      [a, y],
      [b, y + 0.1 * (r() - 0.5) * (high - low)],
    ];
    const on = Array.from({ length: 33 }, (_, i): Point2 => [a + (i / 32) * (b - a), points[0][1] + (i / 32) * (points[1][1] - points[0][1])]);
    if (on.every((q) => insidePolygon(q, outline) && clearOf(q, [outline, ...lines], 0.008))) {
      lines.push(points);
      out.lines = { crease: { points: points.map((q) => q.map((c) => mm(1000 * c))), ...(fold === undefined ? {} : { fold }) } };
    }
  }
  if (r() < 0.25) {
    const diameter = 0.008 + 0.03 * r();
    const at = placeIn(r, outline, diameter / 2 + 0.008, lines);
    if (at)
      out.holes = [
        r() < 0.6
          ? { circle: { centre: at.map((c) => mm(1000 * c)), diameter: mm(1000 * diameter) } }
          : { rectangle: { at: at.map((c) => mm(1000 * (c - diameter / 3))), width: mm(600 * diameter), height: mm(600 * diameter) } },
      ];
  }
  return out;
}

/** Two sheets with four different corner roundings, one of them cut in a curve, the second the mirror image of the first; open at the top. */
function uneven(r: () => number): { kind: string; panels: Form; seams: Form } {
  const [w, h] = [140 + 220 * r(), 140 + 200 * r()];
  const radius = () => mm(Math.min(w, h) * (0.05 + 0.3 * r()));
  const corners = [
    { at: [mm(0), mm(0)], edge: 'bottom', radius: radius() },
    { at: [mm(w), mm(0)], edge: 'right', radius: r() < 0.5 ? radius() : [radius(), radius()] },
    { at: [mm(w * (1 + 0.1 * (r() - 0.5))), mm(h)], edge: 'top' },
    { at: [mm(0), mm(h * (0.9 + 0.2 * r()))], edge: 'left' },
  ];
  const names = [
    'bottom',
    'right',
    'left',
    ...parseBag({ slumpline: 1, panels: { p: { outline: corners } }, stacks: { s: ['lawn'] } }).panels[0].outline.map((e) => e.name),
  ];
  const sewnEdges = [...new Set(names)].filter((n) => n !== 'top');
  return {
    kind: 'uneven',
    panels: { front: { outline: corners, open: ['top'] }, back: { mirror: 'front', open: ['top'] } },
    seams: Object.fromEntries(sewnEdges.map((n, i) => [`s${i}`, { join: [`front.${n}`, `back.${n}`] }])),
  };
}

/** A band with a skirt bunched onto it between one or two pairs of notches, on a round base with an even gather. */
function bunched(r: () => number): { kind: string; panels: Form; seams: Form } {
  const [girth, band, skirt] = [350 + 450 * r(), 40 + 80 * r(), 80 + 150 * r()];
  const [first, second] = [1.2 + 1.5 * r(), 1.2 + 1.2 * r()];
  const two = r() < 0.5;
  const cut = girth * (1 + 0.2 * (first - 1) + (two ? 0.25 * (second - 1) : 0));
  const notch = (at: number) => `bottom[${at}%]`;
  return {
    kind: 'bunched',
    panels: {
      band: {
        role: 'body',
        rectangle: { width: mm(girth), height: mm(band) },
        open: ['top'],
        marks: { a: notch(15), b: notch(35), c: notch(60), d: notch(85) },
      },
      skirt: { role: 'body', rectangle: { width: mm(cut), height: mm(skirt) } },
      base: { circle: { diameter: mm(girth / Math.PI) } },
    },
    seams: {
      'band seam': { join: ['band.left', 'band.right'] },
      'skirt seam': { join: ['skirt.left', 'skirt.right'] },
      foot: { join: ['base.rim', 'skirt.bottom'], gather: cut / girth },
      G: {
        join: ['band.bottom', 'skirt.top'],
        gather: [{ from: 'band.a', to: 'band.b', ratio: first }, ...(two ? [{ from: 'band.c', to: 'band.d', ratio: second }] : [])],
      },
    },
  };
}
