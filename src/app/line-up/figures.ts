import { closureLines, type Evidence, hungLines, pipsLine, type Result, type Status } from '../core.ts';
import { h } from '../page/dom.ts';
import { percent } from '../page/format.ts';
import { text } from '../page/text.ts';
import { bulkiest } from './bulkiest.ts';

/** What one column of the comparison shows, read off a result; null where the figure does not apply. SI. */
export interface Figures {
  readonly word: Result['verdict']['word'];
  readonly reason: string;
  /** Words of a soft, a typical and a stiff bolt; '' where one alone was settled. */ readonly pips: string;
  /** How it misses what is wanted, where it does; '' where it meets it or nothing is said. */ readonly miss: string;
  /** What else there is to say of it, folded away. */ readonly details: string;
  /** The same for the engineer: meshes, strains. */ readonly remarks: string;
  /** At the middle of the band, the least and the most of all runs, and at the band's ends where they were run. */
  readonly heightKept: {
    readonly mid: number;
    readonly least: number;
    readonly most: number;
    readonly low: number | null;
    readonly high: number | null;
  } | null;
  readonly droop: number | null;
  /** rad */ readonly lean: number | null;
  /** Of the wall that bulges most, over its width. */ readonly bulge: number | null;
  /** The shape shown is one heap of many: its figures are rounded. */ readonly heap: boolean;
  /** The same figures of every bolt, where the word is not that of a typical one; null where it is. */
  readonly bolts:
    | readonly {
        readonly name: string;
        readonly kept: number | null;
        readonly droop: number | null;
        readonly lean: number | null;
        readonly bulge: number | null;
      }[]
    | null;
  /** Its closures, a line each, in mechanics' units; empty where it has none on. */ readonly closures: readonly string[];
  readonly massKg: number;
  readonly rigidity: { readonly value: number; readonly evidence: Evidence } | null;
  /** The front (or the tallest panel): overhang of its stack, and how many of those it is tall. */
  readonly wall: { readonly overhang: number; readonly standNumber: number; readonly evidence: Evidence } | null;
  readonly bulk: { readonly thickness: number; readonly layers: number; readonly seam: string } | null;
  readonly givesWayFirst: string | null;
  /** It fell over, or has no verdict: nothing is said of what gives way. */ readonly fell: boolean;
  readonly status: Status;
  readonly vertices: number;
  readonly seconds: number;
  readonly residual: number;
  /** How a hung bag hangs and pulls; null unless its stance is hung. Lean in rad, lengths in m. */
  readonly hung: {
    readonly tilt: number;
    readonly mouthSag: number | null;
    readonly baseSag: number | null;
    /** Largest pull of a strap on one of its anchors, N. */ readonly pull: number;
    /** Each strap: how far its top is over the mouth, m, and the pulls at its two ends, N. */
    readonly straps: readonly { readonly name: string; readonly slack: boolean; readonly drop: number; readonly pulls: readonly number[] }[];
    /** What there is beside that, in words, in mechanics' units: a line that begins with two spaces belongs to the one above. */ readonly lines: readonly string[];
    /** It had not come to rest. */ readonly moving: boolean;
  } | null;
}

/** Sentences that are the engineer's: of meshes and strains. */
const ENGINEERS = /\bmesh|strain/i;
/** Words of bags that have come down: one heap of many. */
const HEAPS: readonly string[] = ['slumps', 'lies flat'];

/** The run that is shown: the middle of the band, or what there is. */
export const leadOf = (result: Result): Result['runs'][number] | undefined => result.runs.find((r) => r.band === 'mid') ?? result.runs[0];

/** Whether the shape shown has come down. */
export function isHeap(result: Result): boolean {
  const lead = leadOf(result);
  return lead !== undefined && HEAPS.includes(result.verdict.byBand[lead.band] ?? '');
}

export function figuresOf(result: Result): Figures {
  const { runs, stacks, seams, verdict } = result;
  const mid = runs.find((r) => r.band === 'mid') ?? runs[0];
  const kept = runs.flatMap((r) => (r.measures.heightKept === null ? [] : [r.measures.heightKept]));
  const end = (band: string): number | null => runs.find((r) => r.band === band)?.measures.heightKept ?? null;
  const tallest = mid ? [...mid.panels].sort((a, b) => b.height - a.height)[0] : undefined;
  const wall = mid?.panels.find((p) => p.name === 'front') ?? tallest;
  const stack = stacks.find((s) => s.panel === wall?.name && s.region === null);
  // The verdict rests on every run, so the least settled of them is the one to show.
  const worst = [...runs].sort((a, b) => b.residual - a.residual)[0];
  return {
    word: verdict.word,
    reason: verdict.reason,
    pips: pipsLine(verdict),
    miss: verdict.meetsWanted === false ? verdict.wantedReason.replace(`"${verdict.wanted}"`, `"${text.controls.wants[verdict.wanted]}"`) : '',
    details: verdict.details.filter((line) => !ENGINEERS.test(line)).join(' '),
    remarks: verdict.details.filter((line) => ENGINEERS.test(line)).join(' '),
    heightKept:
      mid?.measures.heightKept == null
        ? null
        : { mid: mid.measures.heightKept, least: Math.min(...kept), most: Math.max(...kept), low: end('low'), high: end('high') },
    droop: mid?.measures.topEdgeDrop ?? null,
    lean: mid?.measures.wallLean ?? null,
    bulge: mid?.measures.bulge ?? null,
    heap: isHeap(result),
    bolts:
      mid === undefined || runs.length < 2 || verdict.word === 'near its limit' || verdict.word === verdict.byBand[mid.band]
        ? null
        : runs.map(({ band, measures: m }) => ({
            name: verdict.pips.find((p) => p.band === band)?.name ?? band,
            kept: m.heightKept,
            droop: m.topEdgeDrop,
            lean: m.wallLean,
            bulge: m.bulge,
          })),
    closures: mid ? closureLines(mid) : [],
    massKg: result.massKg,
    rigidity: stack ? { value: stack.bending[0], evidence: stack.evidence } : null,
    wall: wall && wall.height > 0 && stack ? { overhang: wall.overhang, standNumber: wall.standNumber, evidence: stack.evidence } : null,
    bulk: bulkiest(seams),
    givesWayFirst: verdict.givesWayFirst,
    fell: verdict.word === 'lies flat' || verdict.word === 'no verdict',
    status: runs.find((r) => r.status !== 'settled')?.status ?? 'settled',
    vertices: result.vertices,
    seconds: runs.reduce((sum, r) => sum + r.seconds.setup + r.seconds.settle, 0),
    residual: worst?.residual ?? 0,
    hung: mid?.hung
      ? {
          tilt: mid.hung.tilt,
          mouthSag: mid.measures.mouthSag,
          baseSag: mid.measures.baseSag,
          pull: Math.max(0, ...mid.hung.straps.flatMap((s) => s.anchors.map((a) => a.size))),
          straps: mid.hung.straps.map((s) => ({ name: s.name, slack: s.slack, drop: s.drop, pulls: s.anchors.map((a) => a.size) })),
          lines: hungLines(mid, result.stitching),
          moving: mid.status !== 'settled',
        }
      : null,
  };
}

/** The share at an end of the band, or a dash where it was not run. */
export const endWord = (share: number | null): string => (share === null ? text.table.none : percent(share));

/** Height kept over the band on a scale from none to all, the same in every column; a bar from the least to the most and a tick at mid. */
export function bandBar(band: NonNullable<Figures['heightKept']>): HTMLElement {
  const at = (v: number): string => `${(100 * Math.min(1, Math.max(0, v))).toFixed(1)}%`;
  const width = Math.max(0.03, Math.min(1, band.most) - band.least);
  const words = text.table.band(endWord(band.low), percent(band.mid), endWord(band.high));
  return h(
    'span',
    { class: 'band', role: 'img', 'aria-label': words, title: words },
    h('span', { class: 'band-range', style: `left:${at(Math.min(band.least, 1 - width))};width:${at(width)}` }),
    h('span', { class: 'band-tick', style: `left:${at(band.mid)}` }),
  );
}

/** Where a figure comes from, beside the figure. */
export const chip = (evidence: Evidence): HTMLElement => h('span', { class: 'chip', title: text.table.evidenceHint[evidence] }, text.table.evidence[evidence]);

/** The lightest option that meets what is wanted, by settled and current results only; null when none does. */
export function lightestThatMeets(results: readonly (Result | null)[]): number | null {
  let best: number | null = null;
  results.forEach((result, i) => {
    if (!result?.verdict.meetsWanted) return;
    if (best === null || result.massKg < results[best]!.massKg) best = i;
  });
  return best;
}
