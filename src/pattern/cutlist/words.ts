/** The cutting list as text and as CSV. */
import { csvCell, formatInches, formatMass, formatMm, trimmed } from '../../units/index.ts';
import { cutWords } from '../sheet/words.ts';
import { threadLength } from './thread.ts';
import type { CutList, ListedCost, ListedLength, ListedMaterial, ListedPart, ListedPurchase } from './types.ts';

const length = (m: number): string => `${formatMm(m, 0)} (${formatInches(m)})`;
const area = (m2: number): string => `${trimmed(m2, m2 < 0.1 ? 4 : 3)} m2 (${trimmed(m2 / 0.09290304, 2)} sq ft)`;

/** "8.05 EUR"; without a currency "8.05". */
export const moneyWords = (amount: number, currency: string): string => `${amount.toFixed(2)}${currency === '' ? '' : ` ${currency}`}`;

/** "0.45 m of canvas from the market: 8.05 EUR; the stock is short of 0.1 m". */
function purchaseWords(b: ListedPurchase, cost: ListedCost | null): string {
  const whole = b.unit !== 'm' && b.unit !== 'm2',
    unit = whole && b.amount === 1 ? b.unit.slice(0, -1) : b.unit;
  const many = (v: number): string => trimmed(v, whole ? 0 : 3);
  const price = b.cost === null ? 'no price stated' : moneyWords(b.cost, cost?.currency ?? '');
  return `${many(b.amount)} ${unit} of ${b.itemName}: ${price}${b.short === null || b.short === 0 ? '' : `; the stock is short of ${many(b.short)} ${b.unit}`}`;
}

/** What all of it costs, and what that leaves out. */
export function costWords({ shelf, currency, total, known, without }: ListedCost): string {
  const whole = total === null ? `${moneyWords(known, currency)} for what has a price` : moneyWords(total, currency);
  const missing = without.length === 0 ? '' : `; no price on the shelf for ${without.join(', ')}`;
  return `${whole}, from shelf "${shelf}"${missing}; glue and edge paint are not in it`;
}

/** "2 x 612 mm (24 1/8 in) of paper cord of 5 mm". */
export const lengthWords = (t: ListedLength): string =>
  `${t.count} x ${length(t.length)} of ${t.materialName}${t.width > 0 && (t.kind === 'strap' || t.kind === 'binding') ? `, ${formatMm(t.width)} wide` : ''}`;

export const partWords = (p: ListedPart): string => `${p.count} x ${p.what}, on ${p.on.join(', ')}`;

function materialLines(m: ListedMaterial, cost: ListedCost | null): string[] {
  const pieces = `${m.pieces} ${m.pieces === 1 ? 'piece' : 'pieces'}`;
  const buy = m.bought === null ? (cost ? ['    not on the shelf, or the shelf does not say how it is sold'] : []) : [`    ${purchaseWords(m.bought, cost)}`];
  if (m.hide !== null)
    return [
      `  ${m.name}: ${pieces}, ${area(m.area)} net; hide to buy ${area(m.hide)} with ${trimmed(100 * m.waste!, 0)} % lost to shape and flaws (25-35 % is common practice; --waste states yours)`,
      ...buy,
    ];
  const { lay } = m;
  const sheets = m.sheets === null ? '' : `, on ${m.sheets} ${m.sheets === 1 ? 'sheet' : 'sheets'}`;
  return [
    `  ${m.name}: ${pieces}, ${area(m.area)} net; ${length(lay!.length)} of a width of ${length(lay!.width)}${sheets}, ${trimmed(100 * lay!.used, 0)} % used`,
    ...(m.reason ? [`    ${trimmed(lay!.length / (lay!.area / lay!.width), 2)} times area over width: ${m.reason}`] : []),
    ...buy,
  ];
}

/** What finished parts come to, in words. */
export const weighsWords = (finished: CutList['finished']): string =>
  `what the bag weighs${finished.some((f) => f.kind === 'closure') ? ', its closures on it,' : ''}`;

const titled = (title: string, lines: readonly string[]): string[] => (lines.length === 0 ? [] : ['', title, ...lines]);

/** The list as plain text, in a maker's units. */
export function cutListText(list: CutList): string {
  const { pieces, materials, tapes, parts, thread, finished, cost } = list;
  const total = threadLength(thread);
  const name = (material: string): string => materials.find((m) => m.material === material)?.name ?? tapes.find((t) => t.material === material)!.materialName;
  const grams = (p: ListedPart): string => (p.mass === null ? 'not weighed' : formatMass(p.mass * p.count));
  return [
    `${list.bag}: ${list.option}`,
    '',
    'Pieces (box at the cut line, grain upright)',
    ...pieces.map(
      (p) =>
        `  ${p.number}. ${p.name}: ${p.kind}, ${name(p.material)}, ${cutWords(p)}, ${formatMm(p.width)} x ${formatMm(p.height)}, ${formatMass(p.mass)}${p.notes.length > 0 ? `; ${p.notes.join('; ')}` : ''}`,
    ),
    '',
    'Materials',
    ...materials.flatMap((m) => materialLines(m, cost)),
    ...(cost === null ? [] : [`  together ${costWords(cost)}`]),
    ...titled(
      'By length (as it is cut)',
      tapes.flatMap((t) => [
        `  ${t.name}: ${lengthWords(t)}, ${formatMass(t.mass * t.count)}; ${t.how}`,
        ...(t.bought === null ? [] : [`    ${purchaseWords(t.bought, cost)}`]),
      ]),
    ),
    ...titled(
      'By the piece',
      parts.flatMap((p) => [`  ${p.name}: ${partWords(p)}, ${grams(p)}`, ...(p.bought === null ? [] : [`    ${purchaseWords(p.bought, cost)}`])]),
    ),
    '',
    'Thread (lockstitch 301: length x (2 + 2 T S); T thickness sewn through, S stitches per metre)',
    ...thread.map(
      (r) => `  ${r.name}: ${length(r.length)} in stitches of ${formatMm(r.stitch)} through ${formatMm(r.thickness, 2)}: ${trimmed(r.thread, 2)} m`,
    ),
    `  together ${trimmed(total, 1)} m; ends, bobbins and mending are not in it`,
    ...(list.threadBought === null ? [] : [`    ${purchaseWords(list.threadBought, cost)}`]),
    '',
    `All as cut and bought: ${formatMass(list.mass)}; thread and glue are not in it`,
    ...titled('Finished, by part', [
      ...finished.map((f) => `  ${f.kind} ${f.name}: ${formatMass(f.mass)}`),
      ...(finished.length > 0 ? [`  together ${formatMass(finished.reduce((sum, f) => sum + f.mass, 0))}: ${weighsWords(finished)} when it is settled`] : []),
    ]),
    '',
    'Sewing order (the usual one; not the only one)',
    ...list.order.map((s) => `  [ ] ${s.phase}: ${s.text}`),
    ...(list.notes.length > 0 ? ['', ...list.notes.map((t) => `look at: ${t}`)] : []),
    '',
  ].join('\n');
}

const HEAD = [
  ...['what', 'name', 'material', 'layer', 'count', 'mirrored', 'width_m', 'length_m', 'area_m2', 'mass_kg', 'used_share', 'thread_m'],
  ...['amount', 'unit', 'cost', 'currency'],
] as const;
type Row = Partial<Record<(typeof HEAD)[number], string | number | null>>;

/** One line a piece, material, length, part, row of thread and finished part; SI, a point for decimals, commas between. Source of the form: RFC 4180. */
export function cutListCsv(list: CutList): string {
  const six = (v: number): number => Number(v.toFixed(6));
  const currency = list.cost?.currency ?? '';
  const money = (b: ListedPurchase | null): Row =>
    b === null
      ? {}
      : { amount: six(b.amount), unit: b.unit, cost: b.cost === null ? null : Number(b.cost.toFixed(2)), currency: b.cost === null ? '' : currency };
  const rows: Row[] = [
    ...list.pieces.map((p) => ({
      what: 'piece',
      name: p.name,
      material: p.material,
      layer: p.kind,
      count: p.count,
      mirrored: p.mirrored,
      width_m: six(p.width),
      length_m: six(p.height),
      area_m2: six(p.area),
      mass_kg: six(p.mass),
    })),
    ...list.materials.map((m): Row => {
      const common = { name: m.name, material: m.material, count: m.pieces, area_m2: six(m.area), mass_kg: six(m.mass), ...money(m.bought) };
      if (!m.lay) return { what: 'hide', ...common, used_share: six(1 - (m.waste ?? 0)) };
      return { what: m.sheets === null ? 'roll' : 'sheet', ...common, width_m: six(m.lay.width), length_m: six(m.lay.length), used_share: six(m.lay.used) };
    }),
    ...list.tapes.map((t) => ({
      what: t.kind === 'strap' || t.kind === 'binding' ? 'tape' : t.kind,
      name: t.name,
      material: t.material,
      count: t.count,
      width_m: six(t.width),
      length_m: six(t.length),
      mass_kg: six(t.mass * t.count),
      ...money(t.bought),
    })),
    ...list.parts.map((p) => ({
      what: 'part',
      name: p.name,
      material: p.what,
      layer: p.kind,
      count: p.count,
      mass_kg: p.mass === null ? null : six(p.mass * p.count),
      ...money(p.bought),
    })),
    ...list.thread.map((r) => ({ what: 'thread', name: r.name, length_m: six(r.length), thread_m: six(r.thread) })),
    ...(list.threadBought ? [{ what: 'thread', name: 'all rows', thread_m: six(threadLength(list.thread)), ...money(list.threadBought) }] : []),
    ...list.finished.map((f) => ({ what: 'finished', name: f.name, layer: f.kind, mass_kg: six(f.mass) })),
    ...(list.cost ? [{ what: 'cost', name: list.cost.shelf, cost: list.cost.total === null ? null : Number(list.cost.total.toFixed(2)), currency }] : []),
  ];
  const cells = (row: Row): string => HEAD.map((key) => csvCell(String(row[key] ?? ''))).join(',');
  return `${[HEAD.join(','), ...rows.map(cells)].join('\r\n')}\r\n`;
}
