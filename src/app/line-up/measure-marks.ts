import { type Result, roundUp } from '../core.ts';
import { h, refill, svg } from '../page/dom.ts';
import * as f from '../page/format.ts';
import { text } from '../page/text.ts';
import type { Where } from './measured-where.ts';

export const MEASURED = ['heightKept', 'droop', 'lean', 'pulls'] as const;
export type Measured = (typeof MEASURED)[number];
type Hung = NonNullable<Result['runs'][number]['hung']>;
type Point3 = readonly [number, number, number];

/** What one bay's marks are drawn from. */
export interface Marked {
  readonly bay: HTMLElement;
  /** px from the bay's left and the mat's top. */ readonly project: (p: Point3) => readonly [number, number] | null;
  /** Middle of the panel pointed out, where it is drawn now; null for none. */ readonly pointed: { readonly panel: string; readonly at: Point3 } | null;
  readonly measured: { readonly figure: Measured; readonly where: Where /** As the table rounds it. */; readonly heap: boolean } | null;
  /** The straps' pulls as arrows; null for none. */
  readonly pulls: {
    readonly hung: Hung;
    /** Newtons to a hand's breadth. */ readonly scale: number;
    /** Where the scale is told, px from the mat's top. */ readonly foot: number;
  } | null;
}

/** Length that `scale` newtons are drawn as, m: a hand's breadth in either system. */
const HAND: Readonly<Record<f.UnitChoice, number>> = { inch: 0.1016, both: 0.1016, metric: 0.1 };

/** Newtons to a hand's breadth of arrow, one of 1, 2, 5, 10 ... kilograms' or pounds' weight: the largest of these forces (N) is then drawn at 0.4 to 1 of it. */
export function arrowScale(forces: readonly number[], units: f.UnitChoice): number {
  const largest = Math.max(0, ...forces);
  const one = units === 'metric' ? 9.80665 : 4.4482216;
  return largest === 0 ? one : one * roundUp(largest / one);
}

type Point2 = readonly [number, number];
/** Room for a force, px. */
const PULL_LABEL: Point2 = [66, 21];

/** An arrow on paper with a head of fixed size; without one where it is too short for it. */
function arrow(a: Point2, b: Point2): SVGElement {
  const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [u, v] = [(b[0] - a[0]) / (l || 1), (b[1] - a[1]) / (l || 1)];
  const wing = (side: number): string => `${(b[0] - 7 * u - 4 * side * v).toFixed(1)} ${(b[1] - 7 * v + 4 * side * u).toFixed(1)}`;
  const head = l > 7 ? `M${wing(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}L${wing(-1)}` : '';
  return svg('path', { class: 'mark-line mark-arrow', d: `M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}${head}` });
}

const line = (kind: string, a: readonly [number, number], b: readonly [number, number]): SVGElement =>
  svg('path', { class: kind, d: `M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}` });
const tick = ([x, y]: readonly [number, number]): SVGElement => line('mark-line', [x - 7, y], [x + 7, y]);

/** Draws the name of the panel pointed out and the dimension line of the figure asked for over one bay. */
export function drawMarks({ bay, project, pointed, measured, pulls }: Marked, units: f.UnitChoice): void {
  let layer = bay.querySelector<HTMLElement>('.bay-marks');
  if (!layer) bay.append((layer = h('div', { class: 'bay-marks' })));
  const shapes: SVGElement[] = [];
  const labels: HTMLElement[] = [];
  const label = (at: readonly [number, number], words: string, kind: string): void => {
    // Kept inside its bay, whatever the figure's place is.
    const x = Math.min(Math.max(at[0], 4), Math.max(4, bay.clientWidth - (kind === 'mark-pull' ? PULL_LABEL[0] : 170)));
    labels.push(h('span', { class: `mark-label ${kind}`, style: `left:${x.toFixed(0)}px;top:${Math.max(54, at[1]).toFixed(0)}px` }, words));
  };
  const p = pointed && project(pointed.at);
  if (pointed && p) label(p, pointed.panel, 'mark-panel');
  const both = (v: number): string => {
    const { main, beside } = f.length(v, units);
    return beside ? `${main} (${beside})` : main;
  };
  if (measured) {
    const { heightKept, drop, lean } = measured.where;
    if (measured.figure === 'heightKept' && heightKept) {
      const [a, b, c] = [project(heightKept.foot), project(heightKept.mean), project(heightKept.drafted)];
      if (a && b && c) {
        shapes.push(line('mark-line', a, b), tick(a), tick(b), line('mark-line mark-dashed', b, c), tick(c));
        const kept = heightKept.mean[2] - heightKept.foot[2];
        label([c[0] + 10, c[1] - 58], text.measured.height(both(kept), both(heightKept.drafted[2] - heightKept.foot[2])), '');
      }
    }
    if (measured.figure === 'droop' && drop) {
      const [a, c] = [project(drop.at), project(drop.drafted)];
      if (a && c) {
        shapes.push(line('mark-line', a, c), tick(a), tick(c), svg('circle', { class: 'mark-dot', cx: a[0], cy: a[1], r: 3.5 }));
        label([c[0] + 10, c[1] - 58], text.measured.drop(measured.heap ? f.aboutLength(drop.drop, units) : both(drop.drop), drop.panel), '');
      }
    }
    if (measured.figure === 'lean' && lean) {
      const [a, b, c] = [project(lean.foot), project(lean.top), project(lean.upright)];
      if (a && b && c) {
        shapes.push(line('mark-line', a, b), line('mark-line mark-dashed', a, c), svg('circle', { class: 'mark-dot', cx: a[0], cy: a[1], r: 3.5 }));
        label([c[0] + 10, c[1] - 58], text.measured.lean(f.angle(lean.angle, measured.heap), lean.panel), '');
      }
    }
  }
  if (pulls) {
    const k = HAND[units] / pulls.scale;
    const drawn = pulls.hung.straps
      .flatMap((s) => s.anchors)
      .flatMap(({ at, force, size }) => {
        const [a, b] = [project(at), project([at[0] + k * force[0], at[1] + k * force[1], at[2] + k * force[2]])];
        return a && b ? [{ a, b, size }] : [];
      })
      .sort((one, two) => two.a[1] - one.a[1]);
    const taken: Point2[] = [];
    for (const { a, b, size } of drawn) {
      shapes.push(arrow(a, b), svg('circle', { class: 'mark-dot', cx: a[0], cy: a[1], r: 3 }));
      // On the side from which the arrow leans away, above whatever is written there already.
      const x = Math.min(Math.max(b[0] > a[0] ? a[0] - PULL_LABEL[0] - 4 : a[0] + 8, 4), bay.clientWidth - PULL_LABEL[0]);
      let y = a[1] + 4;
      for (const [u, v] of taken) if (Math.abs(u - x) < PULL_LABEL[0] && Math.abs(v - y) < PULL_LABEL[1]) y = v - PULL_LABEL[1];
      taken.push([x, y]);
      label([x, y], f.pull(size, units), 'mark-pull');
    }
    label([4, pulls.foot], text.measured.arrows(f.lengthText(HAND[units], units), f.pull(pulls.scale, units)), '');
  }
  refill(layer, ...(shapes.length > 0 ? [svg('svg', { 'aria-hidden': 'true' }, ...shapes)] : []), ...labels);
}
