/** The cutting list as text and as CSV. */
import { formatInches, formatMass, formatMm, trimmed } from '../../units/index.ts';
import { cutWords } from '../sheet/words.ts';
import type { CutList, ListedMaterial } from './types.ts';

const length = (m: number): string => `${formatMm(m, 0)} (${formatInches(m)})`;
const area = (m2: number): string => `${trimmed(m2, m2 < 0.1 ? 4 : 3)} m2 (${trimmed(m2 / 0.09290304, 2)} sq ft)`;

function materialLines(m: ListedMaterial, waste: number): string[] {
  const pieces = `${m.pieces} ${m.pieces === 1 ? 'piece' : 'pieces'}`;
  if (m.hide !== null)
    return [
      `  ${m.name}: ${pieces}, ${area(m.area)} net; hide to buy ${area(m.hide)} with ${trimmed(100 * waste, 0)} % lost to shape and flaws (25-35 % is common practice; --waste states yours)`,
    ];
  const { lay } = m;
  return [
    `  ${m.name}: ${pieces}, ${area(m.area)} net; ${length(lay!.length)} of a width of ${length(lay!.width)}, ${trimmed(100 * lay!.used, 0)} % used`,
    ...(m.reason ? [`    ${trimmed(lay!.length / (lay!.area / lay!.width), 2)} times area over width: ${m.reason}`] : []),
  ];
}

/** The list as plain text, in a maker's units. */
export function cutListText(list: CutList): string {
  const { pieces, materials, tapes, thread } = list;
  const total = thread.reduce((sum, r) => sum + r.thread, 0);
  return [
    `${list.bag}: ${list.option}`,
    '',
    'Pieces (box at the cut line, grain upright)',
    ...pieces.map(
      (p) =>
        `  ${p.number}. ${p.name}: ${p.kind}, ${materials.find((m) => m.material === p.material)!.name}, ${cutWords(p)}, ${formatMm(p.width)} x ${formatMm(p.height)}, ${formatMass(p.mass)}${p.notes.length > 0 ? `; ${p.notes.join('; ')}` : ''}`,
    ),
    '',
    'Materials',
    ...materials.flatMap((m) => materialLines(m, list.stated.waste)),
    ...(tapes.length > 0
      ? [
          '',
          'By length',
          ...tapes.map((t) => `  ${t.name}: ${t.count} x ${length(t.length)} of ${t.materialName}, ${formatMm(t.width)} wide, ${formatMass(t.mass * t.count)}`),
        ]
      : []),
    '',
    'Thread (lockstitch 301: length x (2 + 2 T S); T thickness sewn through, S stitches per metre)',
    ...thread.map(
      (r) => `  ${r.name}: ${length(r.length)} in stitches of ${formatMm(r.stitch)} through ${formatMm(r.thickness, 2)}: ${trimmed(r.thread, 2)} m`,
    ),
    `  together ${trimmed(total, 1)} m; ends, bobbins and mending are not in it`,
    '',
    `All pieces and tapes as cut: ${formatMass(list.mass)}; thread, hardware and glue are not in it`,
    '',
    'Sewing order (the usual one; not the only one)',
    ...list.order.map((s) => `  [ ] ${s.phase}: ${s.text}`),
    ...(list.notes.length > 0 ? ['', ...list.notes.map((t) => `look at: ${t}`)] : []),
    '',
  ].join('\n');
}

const cell = (v: string | number): string => (typeof v === 'number' ? String(v) : /[",\n]/.test(v) ? `"${v.replaceAll('"', '""')}"` : v);

/** One line a piece, material, tape and row of thread; SI, a point for decimals, commas between. Source of the form: RFC 4180. */
export function cutListCsv(list: CutList): string {
  const head = ['what', 'name', 'material', 'layer', 'count', 'mirrored', 'width_m', 'length_m', 'area_m2', 'mass_kg', 'used_share', 'thread_m'];
  const six = (v: number): number => Number(v.toFixed(6));
  const rows: (string | number)[][] = [
    ...list.pieces.map((p) => ['piece', p.name, p.material, p.kind, p.count, p.mirrored, six(p.width), six(p.height), six(p.area), six(p.mass), '', '']),
    ...list.materials.map((m) =>
      m.lay
        ? ['roll', m.name, m.material, '', m.pieces, '', six(m.lay.width), six(m.lay.length), six(m.area), six(m.mass), six(m.lay.used), '']
        : ['hide', m.name, m.material, '', m.pieces, '', '', '', six(m.hide ?? 0), six(m.mass), six(1 - list.stated.waste), ''],
    ),
    ...list.tapes.map((t) => ['tape', t.name, t.material, '', t.count, '', six(t.width), six(t.length), '', six(t.mass * t.count), '', '']),
    ...list.thread.map((r) => ['thread', r.name, '', '', '', '', '', six(r.length), '', '', '', six(r.thread)]),
  ];
  return `${[head, ...rows].map((r) => r.map(cell).join(',')).join('\r\n')}\r\n`;
}

/** The list as a record for JSON: SI, outlines left out. */
export function cutListRecord(list: CutList) {
  return {
    format: 'slumpline cutting list',
    version: 1,
    ...list,
    materials: list.materials.map(({ items: _, lay, ...m }) => ({
      ...m,
      lay: lay && { width: lay.width, length: lay.length, used: lay.used, bound: lay.bound, laid: lay.laid.map(({ item: __, ...l }) => l) },
    })),
  };
}
