import { formatInches, formatMass, formatMm, trimmed } from '../../units/index.ts';
import { cutWords } from '../sheet/words.ts';
import { grainWords, laySvg } from './lay-svg.ts';
import { threadLength } from './thread.ts';
import type { CutList, ListedMaterial, ListedPurchase } from './types.ts';
import { costWords, lengthWords, moneyWords, partWords, weighsWords } from './words.ts';

/** A part of a report, in the shape that a report takes (htmlReport). */
export interface CutPart {
  readonly title: string;
  readonly blocks: readonly CutBlock[];
}

type CutBlock =
  | { readonly kind: 'text'; readonly text: string; readonly faint?: true }
  | { readonly kind: 'list'; readonly items: readonly string[]; readonly boxes?: true }
  | { readonly kind: 'table'; readonly heads: readonly string[]; readonly rows: readonly (readonly string[])[]; readonly figures?: readonly number[] }
  | { readonly kind: 'picture'; readonly svg: string; readonly caption?: string };

const length = (m: number): string => `${formatMm(m, 0)} (${formatInches(m)})`;
const area = (m2: number): string => `${trimmed(m2, m2 < 0.1 ? 4 : 3)} m2`;

function bought(m: ListedMaterial): string {
  if (m.sheets !== null) return `${m.sheets} ${m.sheets === 1 ? 'sheet' : 'sheets'} ${formatMm(m.lay!.width, 0)} wide`;
  if (m.hide !== null) return `${area(m.hide)} of hide (${trimmed(m.hide / 0.09290304, 1)} sq ft)`;
  return m.lay === null ? '-' : `${length(m.lay.length)} of ${length(m.lay.width)} wide`;
}

/** The cutting list as parts of a report: pieces, materials with their lays, what is cut by length, thread, the order of sewing. */
export function cutListParts(list: CutList): CutPart[] {
  const name = (material: string): string => list.materials.find((m) => m.material === material)?.name ?? material;
  const thread = threadLength(list.thread);
  const lays = list.materials.filter((m) => m.lay !== null);
  const long = lays
    .filter((m) => m.reason !== null)
    .map((m) => `${m.name}: ${trimmed(m.lay!.length / (m.lay!.area / m.lay!.width), 2)} times area over width: ${m.reason}.`);
  const hide = list.materials
    .filter((m) => m.waste !== null)
    .map((m) => `${m.name}: ${trimmed(100 * m.waste!, 0)} % of the hide lost to shape and flaws (25-35 % is common practice, no source).`);
  const { cost } = list;
  const price = (m: { readonly bought: ListedPurchase | null }): string => (m.bought?.cost == null ? '-' : moneyWords(m.bought.cost, cost!.currency));
  return [
    {
      title: `Cutting list: ${list.option}`,
      blocks: [
        {
          kind: 'text',
          faint: true,
          text: 'Boxes are at the cut line with the grain upright. Print the pattern itself with "slumpline pattern", or "Take away" on the page.',
        },
        {
          kind: 'table',
          heads: ['', 'piece', 'layer', 'material', 'cut', 'box', 'area', 'weight'],
          rows: list.pieces.map((p) => [
            String(p.number),
            p.name,
            p.kind,
            name(p.material),
            cutWords(p),
            `${formatMm(p.width, 0)} x ${formatMm(p.height, 0)}`,
            area(p.area),
            formatMass(p.mass),
          ]),
          figures: [5, 6, 7],
        },
        {
          kind: 'table',
          heads: ['material', 'pieces', 'net area', 'to buy', 'used', 'weight as cut', ...(cost ? ['cost'] : [])],
          rows: list.materials.map((m) => [
            m.name,
            String(m.pieces),
            area(m.area),
            bought(m),
            m.lay ? `${trimmed(100 * m.lay.used, 0)} %` : '-',
            formatMass(m.mass),
            ...(cost ? [price(m)] : []),
          ]),
          figures: [1, 2, 4, 5, 6],
        },
        { kind: 'list', items: [...hide, ...long, ...(cost ? [`Together ${costWords(cost)}.`] : [])] },
        ...(list.tapes.length === 0
          ? []
          : [
              {
                kind: 'table' as const,
                heads: ['by length', 'to cut', 'weight', ...(cost ? ['cost'] : []), 'made up of'],
                rows: list.tapes.map((t) => [t.name, lengthWords(t), formatMass(t.mass * t.count), ...(cost ? [price(t)] : []), t.how]),
                figures: cost ? [2, 3] : [2],
              },
            ]),
        ...(list.parts.length === 0
          ? []
          : [
              {
                kind: 'table' as const,
                heads: ['by the piece', 'what', 'weight', ...(cost ? ['cost'] : [])],
                rows: list.parts.map((p) => [p.name, partWords(p), p.mass === null ? '-' : formatMass(p.mass * p.count), ...(cost ? [price(p)] : [])]),
                figures: cost ? [2, 3] : [2],
              },
            ]),
        ...(list.finished.length === 0
          ? []
          : [
              {
                kind: 'table' as const,
                heads: ['finished part', '', 'weight'],
                rows: [
                  ...list.finished.map((f) => [f.name, f.kind, formatMass(f.mass)]),
                  ['together', weighsWords(list.finished).replace(/,$/, ''), formatMass(list.finished.reduce((sum, f) => sum + f.mass, 0))],
                ],
                figures: [2],
              },
            ]),
        { kind: 'text', text: `All as cut and bought: ${formatMass(list.mass)}. Thread and glue are not in it.` },
        ...list.notes.map((note) => ({ kind: 'text' as const, text: `Look at: ${note}.` })),
      ],
    },
    {
      title: 'The lay',
      blocks: lays.map((m) => ({
        kind: 'picture' as const,
        svg: laySvg(m, `${list.bag}: ${list.option}`),
        caption: `${m.name}: ${bought(m)}, ${trimmed(100 * m.lay!.used, 0)} % used. ${grainWords(m)}, a tick every 100 mm.`,
      })),
    },
    {
      title: 'Thread',
      blocks: [
        {
          kind: 'text',
          faint: true,
          text: `Lockstitch 301: length x (2 + 2 T S), T what is sewn through, S stitches per metre. Together ${trimmed(thread, 1)} m${list.threadBought?.cost == null ? '' : ` (${moneyWords(list.threadBought.cost, cost!.currency)})`}; ends, bobbins and mending are not in it.`,
        },
        {
          kind: 'table',
          heads: ['row', 'length', 'stitch', 'through', 'thread'],
          rows: list.thread.map((r) => [r.name, length(r.length), formatMm(r.stitch), formatMm(r.thickness, 2), `${trimmed(r.thread, 2)} m`]),
          figures: [1, 2, 3, 4],
        },
      ],
    },
    {
      title: 'Sewing order',
      blocks: [
        { kind: 'text', faint: true, text: 'The usual one; not the only one.' },
        { kind: 'list', boxes: true, items: list.order.map((s) => `${s.phase}: ${s.text}`) },
      ],
    },
  ].filter((part) => part.blocks.length > 0) as CutPart[];
}
