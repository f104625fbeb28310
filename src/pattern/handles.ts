import { type BagDocument, lengthIn, type Path } from '../bag/index.ts';
import type { Bag, Panel, Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { innerHandles } from './inner-handles.ts';

/** One written size that a handle moves. New value = value + gain . displacement (m, panel frame). */
export interface Control {
  readonly label: 'x' | 'y' | 'width' | 'height' | 'radius' | 'diameter' | 'bottom' | 'top' | 'rise' | 'from left' | 'from right' | 'from top';
  readonly path: Path;
  /** As written in the file. */ readonly written: string;
  /** m */ readonly value: number;
  readonly gain: Point2;
}

/** Something of a flat panel that can be taken hold of. Positions in the frame of the panel that shows it, m. */
export interface Handle {
  readonly id: string;
  readonly panel: string;
  readonly kind: 'corner' | 'edge' | 'radius' | 'curve' | 'anchor' | 'mark' | 'line' | 'hole' | 'region';
  readonly name: string;
  readonly at: Point2;
  /** Edges of the panel that it moves, by written name. */ readonly edges: readonly string[];
  readonly controls: readonly Control[];
  /** The panel's frame hangs on what is moved, so the whole drawing shifts with it. */ readonly shift: boolean;
}

type Form = Readonly<Record<string, unknown>>;
const record = (v: unknown): Form | null => (v !== null && typeof v === 'object' && !Array.isArray(v) ? (v as Form) : null);

/** Every handle of every panel, of what lies inside it, and every strap's anchors, in file order. Copies and mirror images carry the handles of their model. */
export function handlesOf(document: BagDocument, bag: Bag): Handle[] {
  const panels = record(document.value.panels) ?? {};
  const ofPanel = (p: Panel): Handle[] => [...panelHandles(panels, bag, p.name, p.name, 0), ...innerHandles(bag, p, record(panels[p.name]) ?? {})];
  return [...bag.panels.flatMap(ofPanel), ...anchorHandles(document, bag)];
}

function panelHandles(panels: Form, bag: Bag, name: string, shown: string, depth: number): Handle[] {
  const form = record(panels[name]);
  if (!form || depth > 20) return [];
  const model = form.copy ?? form.mirror;
  if (typeof model === 'string') {
    const theirs = panelHandles(panels, bag, model, shown, depth + 1);
    if (form.mirror === undefined) return theirs;
    const xs = bag.panels.find((p) => p.name === shown)?.outline.flatMap((e) => [e.from[0], e.to[0]]) ?? [0];
    return theirs.map((h) => flipped(h, Math.min(...xs) + Math.max(...xs), ''));
  }
  const reader = new Reader(bag, shown, ['panels', name]);
  if (record(form.rectangle)) return reader.rectangle(form.rectangle as Form);
  if (record(form.trapezoid)) return reader.trapezoid(form.trapezoid as Form);
  if (record(form.circle)) return reader.circle(form.circle as Form);
  if (Array.isArray(form.outline)) return reader.corners('outline', form.outline as Form[], true);
  if (!Array.isArray(form.half)) return [];
  const right = reader.corners('half', form.half as Form[], false);
  // The other half moves the same figures, the other way round.
  return [...right, ...right.filter((h) => Math.abs(h.at[0]) > 1e-9).map((h) => flipped(h, 0, ' (left)'))];
}

const flipped = (h: Handle, sum: number, mark: string): Handle => ({
  ...h,
  id: `${h.id}${mark}`,
  name: `${h.name}${mark}`,
  at: [sum - h.at[0], h.at[1]],
  controls: h.controls.map((c) => ({ ...c, gain: [-c.gain[0], c.gain[1]] })),
});

const SIDES = ['bottom', 'right', 'top', 'left'] as const;
const CORNERS = ['lower left', 'lower right', 'upper right', 'upper left'] as const;

class Reader {
  constructor(
    private readonly bag: Bag,
    private readonly panel: string,
    private readonly base: Path,
  ) {}

  private control(label: Control['label'], path: Path, written: unknown, gain: Point2): Control[] {
    const value = lengthIn(this.bag, written);
    return value === null ? [] : [{ label, path: [...this.base, ...path], written: String(written), value, gain }];
  }

  private handle(kind: Handle['kind'], name: string, at: Point2, edges: readonly string[], controls: readonly Control[], shift = false): Handle[] {
    return controls.length === 0 ? [] : [{ id: `${this.panel}/${kind}/${name}`, panel: this.panel, kind, name, at, edges, controls, shift }];
  }

  rectangle(form: Form): Handle[] {
    const w = lengthIn(this.bag, form.width);
    const h = lengthIn(this.bag, form.height);
    if (w === null || h === null) return [];
    const place = Array.isArray(form.at) ? form.at : [0, 0];
    const [x, y] = [lengthIn(this.bag, place[0]) ?? 0, lengthIn(this.bag, place[1]) ?? 0];
    const size = (label: 'width' | 'height', gain: Point2): Control[] => this.control(label, ['rectangle', label], form[label], gain);
    const out: Handle[] = [];
    SIDES.forEach((side, i) => {
      const at: Point2 = [x + (i === 1 ? w : i === 3 ? 0 : w / 2), y + (i === 0 ? 0 : i === 2 ? h : h / 2)];
      const gain: Point2 = [i === 1 ? 1 : i === 3 ? -1 : 0, i === 2 ? 1 : i === 0 ? -1 : 0];
      out.push(...this.handle('edge', side, at, [side], size(i % 2 === 1 ? 'width' : 'height', gain), i === 0 || i === 3));
    });
    CORNERS.forEach((name, i) => {
      const [sx, sy] = [i === 1 || i === 2 ? 1 : -1, i >= 2 ? 1 : -1];
      const corner: Point2 = [x + (sx > 0 ? w : 0), y + (sy > 0 ? h : 0)];
      const edges = [SIDES[(i + 3) % 4], SIDES[i], `${SIDES[(i + 3) % 4]}-${SIDES[i]}`];
      out.push(...this.handle('corner', name, corner, edges, [...size('width', [sx, 0]), ...size('height', [0, sy])], sx < 0 || sy < 0));
      const one = Array.isArray(form.radius) ? form.radius[i] : form.radius;
      const r = lengthIn(this.bag, one);
      // The middle of a quarter arc lies (1 - 1/sqrt 2) r inside the corner along both axes.
      if (r !== null && one !== undefined && r > 0) {
        const inset = (1 - Math.SQRT1_2) * r;
        const gain: Point2 = [-sx / (2 * (1 - Math.SQRT1_2)), -sy / (2 * (1 - Math.SQRT1_2))];
        const path = Array.isArray(form.radius) ? ['rectangle', 'radius', i] : ['rectangle', 'radius'];
        out.push(...this.handle('radius', name, [corner[0] - sx * inset, corner[1] - sy * inset], edges, this.control('radius', path, one, gain)));
      }
    });
    return out;
  }

  trapezoid(form: Form): Handle[] {
    const [b, t, h] = ['bottom', 'top', 'height'].map((k) => lengthIn(this.bag, form[k]));
    if (b === null || t === null || h === null) return [];
    const size = (label: 'bottom' | 'top' | 'height', gain: Point2): Control[] => this.control(label, ['trapezoid', label], form[label], gain);
    const corner = (name: string, at: Point2, sx: number, end: 'bottom' | 'top'): Handle[] =>
      this.handle(
        'corner',
        name,
        at,
        [end, sx > 0 ? 'right' : 'left'],
        [...size(end, [2 * sx, 0]), ...size('height', [0, end === 'top' ? 1 : -1])],
        end === 'bottom',
      );
    return [
      ...this.handle('edge', 'bottom', [b / 2, 0], ['bottom', 'left', 'right'], size('height', [0, -1]), true),
      ...this.handle('edge', 'top', [b / 2, h], ['top', 'left', 'right'], size('height', [0, 1])),
      ...corner('lower left', [0, 0], -1, 'bottom'),
      ...corner('lower right', [b, 0], 1, 'bottom'),
      ...corner('upper right', [(b + t) / 2, h], 1, 'top'),
      ...corner('upper left', [(b - t) / 2, h], -1, 'top'),
    ];
  }

  circle(form: Form): Handle[] {
    const d = lengthIn(this.bag, form.diameter);
    if (d === null) return [];
    const centre = Array.isArray(form.centre) ? form.centre.map((v) => lengthIn(this.bag, v) ?? 0) : [d / 2, d / 2];
    const at: Point2 = [centre[0] + d / 2, centre[1]];
    // Without a written centre the circle's frame is its lower left, so its right side moves by the whole change.
    return this.handle(
      'edge',
      'rim',
      at,
      ['rim1', 'rim2', 'rim3', 'rim4'],
      this.control('diameter', ['circle', 'diameter'], form.diameter, [form.centre ? 2 : 1, 0]),
    );
  }

  /** Corners, the edges between them, roundings and curves of a written list of corners. */
  corners(key: 'outline' | 'half', forms: readonly Form[], closed: boolean): Handle[] {
    const n = forms.length;
    const places = forms.map((c): Point2 | null => {
      const at = Array.isArray(c.at) ? c.at.map((v) => lengthIn(this.bag, v)) : [];
      return at.length === 2 && at[0] !== null && at[1] !== null ? [at[0], at[1]] : null;
    });
    const nameOf = (i: number): string => String(forms[(i + n) % n].edge ?? `edge${((i + n) % n) + 1}`);
    const axes = (i: number, list: unknown, path: Path, fixedX = false): Control[] =>
      !Array.isArray(list)
        ? []
        : [...(fixedX ? [] : this.control('x', [key, i, ...path, 0], list[0], [1, 0])), ...this.control('y', [key, i, ...path, 1], list[1], [0, 1])];
    const out: Handle[] = [];
    forms.forEach((c, i) => {
      const a = places[i];
      const next = (i + 1) % n;
      const b = places[next];
      const onAxis = (j: number): boolean => !closed && (j === 0 || j === n - 1);
      if (!a) return;
      const edges = [...(i > 0 || closed ? [nameOf(i - 1)] : []), ...(i < n - 1 || closed ? [nameOf(i)] : []), `${nameOf(i - 1)}-${nameOf(i)}`];
      out.push(...this.handle('corner', `${i + 1}`, a, edges, axes(i, c.at, ['at'], onAxis(i))));
      const before = places[(i + n - 1) % n];
      const r = Array.isArray(c.radius) ? null : lengthIn(this.bag, c.radius);
      if (c.radius !== undefined && r !== null && r > 0 && before && b) out.push(...this.rounding(key, i, [before, a, b], r, c.radius, edges));
      if (Array.isArray(c.radius) && before && b) out.push(...this.setbacks(key, i, [before, a, b], c.radius, edges));
      if (!b || (!closed && i === n - 1)) return;
      const straight = c.curve === undefined && c.through === undefined && c.rise === undefined;
      if (straight) {
        const level = Math.abs(a[1] - b[1]) < 1e-9;
        const upright = Math.abs(a[0] - b[0]) < 1e-9;
        // A level edge moves up and down, an upright one to the sides, any other as the hand goes.
        const both = [...axes(i, c.at, ['at'], onAxis(i)), ...axes(next, forms[next].at, ['at'], onAxis(next))].filter((k) =>
          level ? k.label === 'y' : upright ? k.label === 'x' : true,
        );
        out.push(...this.handle('edge', nameOf(i), [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], [nameOf(i - 1), nameOf(i), nameOf(i + 1)], both));
      }
      if (Array.isArray(c.curve))
        c.curve.forEach((p: unknown, k: number) => {
          const at = Array.isArray(p) ? p.map((v) => lengthIn(this.bag, v)) : [null];
          if (at.every((v) => v !== null))
            out.push(...this.handle('curve', `${nameOf(i)} ${k + 1}`, at as unknown as Point2, [nameOf(i)], axes(i, p, ['curve', k])));
        });
      if (Array.isArray(c.through)) {
        const at = c.through.map((v) => lengthIn(this.bag, v));
        if (at.every((v) => v !== null)) out.push(...this.handle('curve', nameOf(i), at as unknown as Point2, [nameOf(i)], axes(i, c.through, ['through'])));
      }
      const rise = lengthIn(this.bag, c.rise);
      const l = libm.hypot(b[0] - a[0], b[1] - a[1]);
      if (c.rise !== undefined && rise !== null && l > 0) {
        const out1: Point2 = [(b[1] - a[1]) / l, -(b[0] - a[0]) / l];
        const at: Point2 = [(a[0] + b[0]) / 2 + out1[0] * rise, (a[1] + b[1]) / 2 + out1[1] * rise];
        out.push(...this.handle('curve', nameOf(i), at, [nameOf(i)], this.control('rise', [key, i, 'rise'], c.rise, out1)));
      }
    });
    return out;
  }

  /** An uneven rounding begins and ends at its two distances from the corner, along the edges before and after it. */
  private setbacks(key: string, i: number, [p, a, q]: readonly [Point2, Point2, Point2], written: readonly unknown[], edges: readonly string[]): Handle[] {
    return [p, q].flatMap((end, k): Handle[] => {
      const [dx, dy] = [end[0] - a[0], end[1] - a[1]];
      const l = libm.hypot(dx, dy);
      const r = lengthIn(this.bag, written[k]);
      if (r === null || !(l > 0)) return [];
      const along: Point2 = [dx / l, dy / l];
      const name = `${i + 1} ${k === 0 ? 'before' : 'after'}`;
      return this.handle('radius', name, [a[0] + r * along[0], a[1] + r * along[1]], edges, this.control('radius', [key, i, 'radius', k], written[k], along));
    });
  }

  /** The middle of a rounding lies r (1/cos(turn/2) - 1) from its corner along the bisector. */
  private rounding(key: string, i: number, [p, a, q]: readonly [Point2, Point2, Point2], r: number, written: unknown, edges: readonly string[]): Handle[] {
    const unit = (v: Point2): Point2 => {
      const l = libm.hypot(v[0], v[1]) || 1;
      return [v[0] / l, v[1] / l];
    };
    const u = unit([p[0] - a[0], p[1] - a[1]]);
    const v = unit([q[0] - a[0], q[1] - a[1]]);
    const inward = unit([u[0] + v[0], u[1] + v[1]]);
    const sine = Math.sqrt(Math.max(0, (1 - (u[0] * v[0] + u[1] * v[1])) / 2));
    const reach = 1 / sine - 1;
    if (!(reach > 1e-6) || !Number.isFinite(reach)) return [];
    const at: Point2 = [a[0] + inward[0] * r * reach, a[1] + inward[1] * r * reach];
    return this.handle('radius', `${i + 1}`, at, edges, this.control('radius', [key, i, 'radius'], written, [inward[0] / reach, inward[1] / reach]));
  }
}

/** Patches of straps: distances from a side and from the top. All copies of a pair move the one figure they are written with. */
function anchorHandles(document: BagDocument, bag: Bag): Handle[] {
  const straps = record(document.value.straps) ?? {};
  return Object.entries(straps).flatMap(([name, written]) => {
    const form = record(written);
    if (!form) return [];
    const mirrored = form.to === 'mirrored';
    return bag.straps
      .filter((s) => s.name === name || s.name.startsWith(`${name} on `))
      .flatMap((strap) =>
        strap.anchors.flatMap((anchor, end): Handle[] => {
          const which = end === 0 || mirrored ? 'from' : 'to';
          const flip = end === 1 && mirrored ? -1 : 1;
          const source = record(form[which]);
          if (!source) return [];
          const controls = (['from left', 'from right', 'from top'] as const).flatMap((label): Control[] => {
            const text = source[label] ?? (label === 'from top' ? '25 mm' : undefined);
            const value = text === undefined ? null : lengthIn(bag, text);
            if (value === null) return [];
            const gain: Point2 = label === 'from top' ? [0, -1] : [flip * (label === 'from left' ? 1 : -1), 0];
            return [{ label, path: ['straps', name, which, label], written: String(text), value, gain }];
          });
          const id = `${anchor.panel}/anchor/${strap.name} ${end + 1}`;
          return [{ id, panel: anchor.panel, kind: 'anchor', name: `${strap.name} ${end + 1}`, at: anchor.at, edges: [], controls, shift: false }];
        }),
      );
  });
}
