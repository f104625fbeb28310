import { isCord, isZip } from '../bag/index.ts';
import type { Bag, Closure, EdgeRun, Point2 } from '../bag/types.ts';
import type { DraftPanel } from '../panels/types.ts';
import { escapeXml, formatMm } from '../units/index.ts';

/** From tooth to tooth of a zip as it is marked, and length of a tooth, m: a sign, not to scale. */
const PITCH = 0.006;
const TOOTH = 0.004;
/** From point to point of a channel, m. */
const STEP = 0.004;

const n = (v: number): string => String(Math.round(v * 100) / 100);
const pair = ([x, y]: readonly [number, number]): string => `${n(x)} ${n(y)}`;

/** Marks of a bag's closures on one panel, as SVG text: a ring and a cross where a part is set, teeth along a zip's edge, a channel as a dashed line. `at`: panel frame, m, to the sheet, mm. */
export function paintClosures(bag: Bag, panel: DraftPanel, at: (q: Point2) => [number, number]): string {
  return (bag.closures ?? []).map((c) => onPanel(c, panel, at)).join('');
}

function onPanel(c: Closure, panel: DraftPanel, at: (q: Point2) => [number, number]): string {
  const titled = (d: string, style: string, words: string): string =>
    d === '' ? '' : `<path class="${style}" d="${d}"><title>${escapeXml(`${c.name}: ${words}`)}</title></path>`;
  const own = (runs: readonly EdgeRun[]): readonly EdgeRun[] => runs.filter((r) => r.panel === panel.name);
  if (isZip(c))
    return titled(
      own(c.sides.flat())
        .map((r) => along(panel, r, PITCH, (q, inside) => `M${pair(at(q))}L${pair(at(inside(TOOTH)))}`, ''))
        .join(''),
      'notch',
      c.kind,
    );
  if (isCord(c))
    return titled(
      own(c.along)
        .map((r) => `M${along(panel, r, STEP, (_, inside) => pair(at(inside(c.below))), 'L')}`)
        .join(''),
      'fold',
      `channel of the ${c.kind}, ${formatMm(c.length)}`,
    );
  return c.ends
    .filter((e) => e.panel === panel.name)
    .map((e) => {
      const [x, y] = at(e.at),
        r = 500 * c.size;
      return titled(
        `M${n(x - r)} ${n(y)}a${n(r)} ${n(r)} 0 1 0 ${n(2 * r)} 0a${n(r)} ${n(r)} 0 1 0 ${n(-2 * r)} 0M${n(x - r / 2)} ${n(y)}h${n(r)}M${n(x)} ${n(y - r / 2)}v${n(r)}`,
        'patch',
        c.kind,
      );
    })
    .join('');
}

/** Something at even steps along a stretch: given the place on the edge and the places inside it, m. */
function along(panel: DraftPanel, run: EdgeRun, step: number, paint: (q: Point2, inside: (far: number) => Point2) => string, joint: string): string {
  const edge = panel.edges.find((e) => e.name === run.edge)!,
    many = Math.max(2, Math.round(((run.to - run.from) * edge.length) / step));
  return Array.from({ length: many + 1 }, (_, i) => {
    const t = run.from + ((run.to - run.from) * i) / many,
      q = edge.curve.at(t),
      [tx, ty] = edge.curve.tangent(t),
      side = edge.clothOnLeft ? 1 : -1;
    return paint(q, (far) => [q[0] - side * ty * far, q[1] + side * tx * far]);
  }).join(joint);
}
