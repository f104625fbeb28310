import { lengthIn, type Path } from '../bag/index.ts';
import type { Bag, Panel, Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import type { Control, Handle } from './handles.ts';

type Form = Readonly<Record<string, unknown>>;
const record = (v: unknown): Form | null => (v !== null && typeof v === 'object' && !Array.isArray(v) ? (v as Form) : null);

/**
 * Handles of what lies inside a panel's outline, as its own form writes it: marks placed by x and y, the points of lines, holes (place and size), regions (place and size, the
 * level of "above" and "below", the margin of "inside", the width of a strip). What is written by reference to an edge ("top[25%]") has no handle.
 */
export function innerHandles(bag: Bag, panel: Panel, form: Form): Handle[] {
  const out: Handle[] = [];
  const control = (label: Control['label'], path: Path, written: unknown, gain: Point2): Control[] => {
    const value = lengthIn(bag, written);
    return value === null ? [] : [{ label, path: ['panels', panel.name, ...path], written: String(written), value, gain }];
  };
  const add = (kind: Handle['kind'], name: string, at: Point2, controls: readonly Control[]): void => {
    if (controls.length > 0) out.push({ id: `${panel.name}/${kind}/${name}`, panel: panel.name, kind, name, at, edges: [], controls, shift: false });
  };
  const point = (v: unknown): Point2 | null => {
    const at = Array.isArray(v) && v.length === 2 ? v.map((c) => lengthIn(bag, c)) : [null];
    return at.includes(null) ? null : (at as unknown as Point2);
  };
  const place = (path: Path, written: unknown): Control[] =>
    Array.isArray(written) ? [...control('x', [...path, 0], written[0], [1, 0]), ...control('y', [...path, 1], written[1], [0, 1])] : [];
  const rectangle = (kind: 'hole' | 'region', name: string, path: Path, r: Form): void => {
    const at = point(r.at ?? [0, 0]);
    const [w, h] = [lengthIn(bag, r.width), lengthIn(bag, r.height)];
    if (!at || w === null || h === null) return;
    if (r.at !== undefined) add(kind, name, [at[0] + w / 2, at[1] + h / 2], place([...path, 'at'], r.at));
    const size = [...control('width', [...path, 'width'], r.width, [1, 0]), ...control('height', [...path, 'height'], r.height, [0, 1])];
    add(kind, `${name} size`, [at[0] + w, at[1] + h], size);
  };
  for (const [name, written] of Object.entries(record(form.marks) ?? {})) {
    const at = point(written);
    if (at) add('mark', name, at, place(['marks', name], written));
  }
  for (const [name, written] of Object.entries(record(form.lines) ?? {})) {
    const points = record(written)?.points;
    (Array.isArray(points) ? points : []).forEach((p: unknown, i) => {
      const at = point(p);
      if (at) add('line', `${name} ${i + 1}`, at, place(['lines', name, 'points', i], p));
    });
  }
  (Array.isArray(form.holes) ? form.holes : []).forEach((hole: unknown, i) => {
    const name = `${i + 1}`;
    const { circle, rectangle: box } = record(hole) ?? {};
    const round = record(circle);
    if (record(box)) rectangle('hole', name, ['holes', i, 'rectangle'], box as Form);
    if (!round) return;
    const [at, d] = [point(round.centre), lengthIn(bag, round.diameter)];
    if (!at || d === null) return;
    add('hole', name, at, place(['holes', i, 'circle', 'centre'], round.centre));
    add('hole', `${name} size`, [at[0] + d / 2, at[1]], control('diameter', ['holes', i, 'circle', 'diameter'], round.diameter, [2, 0]));
  });
  const xs = panel.outline.flatMap((e) => [e.from[0], e.to[0]]);
  const ys = panel.outline.flatMap((e) => [e.from[1], e.to[1]]);
  const middle: Point2 = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
  for (const [name, written] of Object.entries(record(form.regions) ?? {})) {
    const region = record(written);
    if (!region) continue;
    const path = ['regions', name];
    if (record(region.rectangle)) rectangle('region', name, [...path, 'rectangle'], region.rectangle as Form);
    for (const side of ['above', 'below'] as const) {
      const level = lengthIn(bag, region[side]);
      if (region[side] !== undefined && level !== null) add('region', name, [middle[0], level], control('y', [...path, side], region[side], [0, 1]));
    }
    const margin = lengthIn(bag, region.inside);
    if (region.inside !== undefined && margin !== null)
      add('region', name, [Math.min(...xs) + margin, middle[1]], control('width', [...path, 'inside'], region.inside, [1, 0]));
    if (region.along !== undefined) {
      // The strip's polygon is its outer line and then the inner one, turned round.
      const strip = panel.regions.find((r) => r.name === name)?.outline ?? [];
      const k = Math.floor((strip.length / 2 - 1) / 2);
      const [a, b] = [strip[k], strip[strip.length - 1 - k]];
      const far = a && b ? libm.hypot(b[0] - a[0], b[1] - a[1]) : 0;
      if (far > 0) add('region', name, b, control('width', [...path, 'width'], region.width, [(b[0] - a[0]) / far, (b[1] - a[1]) / far]));
    }
    (Array.isArray(region.outline) ? region.outline : []).forEach((p: unknown, i) => {
      const at = point(p);
      if (at) add('region', `${name} ${i + 1}`, at, place([...path, 'outline', i], p));
    });
  }
  return out;
}
