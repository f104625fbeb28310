import { pointAt } from '../bag/index.ts';
import type { Bag, Hardware, Member, OutlineEdge, Panel, Point2 } from '../bag/types.ts';
import { hardwareFigures, hardwareWords, memberFigures, memberWords } from '../material/index.ts';
import { escapeXml } from '../units/index.ts';

/** Stations along a stretch. */
const STATIONS = 24;
/** How each kind of member is drawn on the flat pattern: as wide as it is, and dashed as its make is: teeth, a coil, a twist; a wire full. */
const DASH: Partial<Record<Member['kind'], string>> = {
  'cotton cord': '6 2',
  'paper cord': '6 2',
  'spiral steel boning': '2 1.5',
  'coil zip': '1 1.2',
  'metal zip': '2 2',
};
const METAL: readonly Member['kind'][] = ['spring wire', 'spiral steel boning', 'metal zip', 'metal frame'];

const n = (v: number): string => `${Number(v.toFixed(2))}`;

/** Members and hardware of one panel for the flat drawing, true to size (mm): SVG, empty where it has none. at: panel frame, m, to sheet, mm. */
export function trimMarks(bag: Bag, panel: Panel, at: (q: Point2) => readonly [number, number]): string {
  const path = (points: readonly Point2[]): string => `M${points.map((q) => at(q).map(n).join(' ')).join('L')}`;
  const members = (bag.members ?? []).flatMap((member) => {
    const { size } = memberFigures(member),
      lines = [
        ...member.runs.filter((run) => run.panel === panel.name).map((run) => stations(panel, run.edge, run.from, run.to)),
        ...(member.lines ?? []).filter((l) => l.panel === panel.name).map((l) => panel.lines.find((drawn) => drawn.name === l.line)!.points),
      ];
    const dash = DASH[member.kind],
      title = `${member.name}: ${memberWords(member)}${member.stopsShort > 0 ? `, ${n(member.stopsShort * 1000)} mm short at each end` : ''}${member.formed === undefined ? '' : ', formed'}`;
    return lines.map(
      (line) =>
        `<path fill="none" stroke="${METAL.includes(member.kind) ? '#6c7478' : '#b4653a'}" stroke-width="${n(Math.max(0.8, size * 1000))}" stroke-opacity=".75"${dash ? ` stroke-dasharray="${dash}"` : ''} d="${path(line)}"><title>${escapeXml(title)}</title></path>`,
    );
  });
  const hardware = (bag.hardware ?? [])
    .filter((h) => h.panel === panel.name)
    .flatMap((h) =>
      h.at.map(
        (spot) =>
          `<path fill="#c9ccc9" fill-rule="evenodd" stroke="#15201f" stroke-width=".7" d="${symbol(h, at(spot))}"><title>${escapeXml(`${h.name}: ${hardwareWords(h)}`)}</title></path>`,
      ),
    );
  return [...members, ...hardware].join('');
}

function stations(panel: Panel, name: string, from: number, to: number): Point2[] {
  const edge: OutlineEdge = [...panel.outline, ...panel.holes.flat()].find((e) => e.name === name)!;
  return Array.from({ length: STATIONS + 1 }, (_, i) => pointAt(edge, from + ((to - from) * i) / STATIONS));
}

/** A piece as seen from the face, about (x, y), mm: rings and frames open, what is solid full, a foot with its cross. */
function symbol(h: Hardware, [x, y]: readonly [number, number]): string {
  const r = Math.max(1, (hardwareFigures(h).size || 0.01) * 500),
    circle = (k: number): string => `M${n(x - k)} ${n(y)}a${n(k)} ${n(k)} 0 1 0 ${n(2 * k)} 0a${n(k)} ${n(k)} 0 1 0 ${n(-2 * k)} 0Z`,
    box = (w: number, t: number): string => `M${n(x - w)} ${n(y - t)}h${n(2 * w)}v${n(2 * t)}h${n(-2 * w)}Z`;
  switch (h.kind) {
    case 'ring':
    case 'hook':
      return circle(r + 3.5) + circle(r);
    case 'buckle':
    case 'slider':
      return `${box(r + 3.5, r * 0.7 + 3.5)}${box(r, r * 0.7)}${h.kind === 'slider' ? box(1.5, r * 0.7) : ''}`;
    case 'corner plate':
      return `M${n(x)} ${n(y)}h${n(2 * r)}L${n(x)} ${n(y - 2 * r)}Z`;
    case 'foot':
      return `${circle(r)}M${n(x - r)} ${n(y)}h${n(2 * r)}M${n(x)} ${n(y - r)}v${n(2 * r)}`;
    default:
      return circle(r);
  }
}
