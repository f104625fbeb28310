import type { Measures } from '../measures/types.ts';
import { libm } from '../numerics/index.ts';
import type { Gate } from './types.ts';

/**
 * Where "holds" ends and "slumps" begins: the one place. Every limit is common practice in bag making with no published source,
 * proposed in the table "Measuring slump" of the trade notes; differences under 5 mm are within making tolerance anyway.
 */
export interface Threshold {
  readonly gate: Gate;
  /** Row label. */ readonly label: string;
  /** Value of the drafted shape: 1 for what should be kept, 0 for what should not appear. */ readonly ideal: 0 | 1;
  /** Last value that still holds. */ readonly holds: number;
  /** Last value that merely softens. */ readonly softens: number;
  /** percent: a fraction shown as %; angle: rad; ratio: a plain fraction; length: m. */ readonly shown: 'percent' | 'angle' | 'ratio' | 'length';
  /** Can it make a bag slump? Height, lean and mouth can; a bulge, a lifted corner or lost volume alone only soften it. */ readonly decides: boolean;
  /** How to check it at home. */ readonly homeCheck: string;
  readonly source: 'common practice, no source';
}

const DEG = Math.PI / 180;
const source = 'common practice, no source' as const;

/** The gated measures, in the order in which ties are settled and rows are printed. */
export const THRESHOLDS: readonly Threshold[] = [
  {
    gate: 'heightKept',
    label: 'height kept',
    ideal: 1,
    holds: 0.95,
    softens: 0.85,
    shown: 'percent',
    decides: true,
    homeCheck: 'ruler at four rim points',
    source,
  },
  {
    gate: 'topEdgeDrop',
    label: 'top-edge drop',
    ideal: 0,
    holds: 0.05,
    softens: 0.15,
    shown: 'percent',
    decides: true,
    homeCheck: 'string across the mouth',
    source,
  },
  { gate: 'wallLean', label: 'wall lean', ideal: 0, holds: 5 * DEG, softens: 15 * DEG, shown: 'angle', decides: true, homeCheck: 'set square', source },
  {
    gate: 'footprintKept',
    label: 'footprint kept',
    ideal: 1,
    holds: 0.95,
    softens: 0.85,
    shown: 'percent',
    decides: false,
    homeCheck: 'chalk line round it',
    source,
  },
  { gate: 'bulge', label: 'bulge off flat', ideal: 0, holds: 0.03, softens: 0.08, shown: 'percent', decides: false, homeCheck: 'straightedge', source },
  { gate: 'volumeKept', label: 'volume kept', ideal: 1, holds: 0.9, softens: 0.75, shown: 'percent', decides: false, homeCheck: 'dry beans and a jug', source },
  { gate: 'mouthGap', label: 'mouth gap', ideal: 1, holds: 0.7, softens: 0.4, shown: 'ratio', decides: true, homeCheck: 'ruler across the mouth', source },
  {
    gate: 'hangTilt',
    label: 'hang tilt',
    ideal: 0,
    holds: 3 * DEG,
    softens: 8 * DEG,
    shown: 'angle',
    decides: true,
    homeCheck: 'level of a phone, plumb line',
    source,
  },
  {
    gate: 'mouthSag',
    label: 'mouth sag',
    ideal: 0,
    holds: 0.05,
    softens: 0.15,
    shown: 'percent',
    decides: true,
    homeCheck: 'string between the straps',
    source,
  },
  {
    gate: 'baseSag',
    label: 'base sag',
    ideal: 0,
    holds: 0.006,
    softens: 0.015,
    shown: 'length',
    decides: true,
    homeCheck: 'straightedge under the base',
    source,
  },
  {
    gate: 'dropMiss',
    label: 'drop off wanted',
    ideal: 0,
    holds: 0.01,
    softens: 0.02,
    shown: 'length',
    decides: false,
    homeCheck: 'tape from strap to mouth',
    source,
  },
];

/** Below this height kept a slumped bag is a puddle (trade notes, common practice). */
export const PUDDLE = 0.6;

/**
 * A flat strip clamped along its foot buckles under its own weight at 1.9864 c; its 41.5-degree overhang is 2.0004 c. So a stack stands
 * unaided to 0.9930 of its overhang [computed; Greenhill 1881: (7.83735)^(1/3) c, fixed-angle load 8.0042^(1/3) c].
 */
export const UNAIDED = libm.cbrt(7.83735 / 8.0042);

/** Share of the way to the limit that a rigid bag may use: margin 0.5 (common practice, no source: half of what "holds" allows). */
export const RIGID_MARGIN = 0.5;

/** A soft bag that holds with more than this to spare has come out too stiff for soft (common practice, no source). */
export const SOFT_MARGIN = 0.5;

/** Value that a gate judges: as measured, but the top-edge drop over the drafted height. null where it does not apply. */
export function gateValue(gate: Gate, measures: Measures): number | null {
  const value = measures[gate];
  if (gate !== 'topEdgeDrop' || value === null) return value;
  return measures.draftedHeight === null ? null : value / measures.draftedHeight;
}

/** Margin at which a bag slumps: what only softens stays above it, so that words and margins rank alike. */
export const GONE = -2;

/** A miss that tells less the larger it grows: never past `floor` (< 0). m <= 0. */
const saturating = (m: number, floor: number): number => m / (1 + m / floor);

/**
 * Margin of one value: 1 as drafted, 0 on the limit of "holds", -2 on that of "softens", negative when missed; continuous.
 * Formula: (value - holds) / (ideal - holds), from 0 down -2 (value - holds) / (softens - holds). A measure that cannot make a bag slump goes down to -2 and never past it.
 */
export function marginOf(t: Threshold, value: number): number {
  const m = (value - t.holds) / (t.ideal - t.holds);
  if (m >= 0) return m;
  return t.decides ? (GONE * (value - t.holds)) / (t.softens - t.holds) : saturating(m, GONE);
}

/** Word of one value alone. A value within 1e-9 of a limit counts as inside it, so rounding cannot flip a verdict. */
export function wordOf(t: Threshold, value: number): 'holds' | 'softens' | 'slumps' {
  const sign = t.ideal === 1 ? 1 : -1;
  if (sign * (value - t.holds) >= -1e-9) return 'holds';
  return !t.decides || sign * (value - t.softens) >= -1e-9 ? 'softens' : 'slumps';
}

/**
 * Movement left after a nudge that still counts as having come back, over the bag's height: a fifth of what the top edge of a bag that holds may drop (common
 * practice, no source), 2.5 mm of a bag of 250 mm. A share, so that bags alike in all but size are judged alike.
 */
const CAME_BACK = 0.01;
/** Less than this cannot be seen, however low the bag, m. */
const SEEN = 0.001;
/** The same, m, of a bag so high, m. */
export const cameBackWithin = (height: number): number => Math.max(SEEN, CAME_BACK * height);
/** Share of its height by which a nudge may leave a bag out of place and it still stands: what the top edge of one that holds may drop. */
const STILL_STANDS = 0.05;
/** Margin below which being out of place says nothing more by itself: half way to a slump. What the bag has become is judged by its figures. */
const OUT_OF_PLACE = -1;

/** What came of a bag that was nudged, as its own figures say. */
type Became = Pick<Judged, 'word' | 'margin'>;

/**
 * What a nudge says, and its margin: 1 where nothing moved, 0 where it is left out of place by 1 % of the height, from there down. A bag that does not come back is what it has
 * become (`became`): where those figures are a slump, or it came to no rest, it only stands until it is touched, else it softens. So a stiffer bag that a nudge
 * brings to the shape of a softer one has no worse word than that. Where the shape is not known (a hung bag's mouth), up to 5 % of the height still stands.
 * shift: m, Infinity where it did not come back to rest; height: of the bag, m.
 */
export function nudgeWord(shift: number, height: number, became: Became | null = null): { word: 'holds' | 'softens' | 'stands until touched'; margin: number } {
  const left = cameBackWithin(height);
  if (shift < left) return { word: 'holds', margin: 1 - shift / left };
  const still = STILL_STANDS * height,
    over = { word: 'stands until touched', margin: GONE } as const;
  if (became === null || !Number.isFinite(shift))
    return shift <= still + 1e-9 ? { word: 'softens', margin: Math.max(GONE, (GONE * (shift - left)) / Math.max(still - left, left)) } : over;
  return became.word === 'slumps' ? over : { word: 'softens', margin: Math.min(became.margin, saturating((left - shift) / still, OUT_OF_PLACE)) };
}

/** Spread of a margin that was not measured: 1 % of the height kept, 2.4 mm of a wall of 240 mm, half of making tolerance. Our own choice. */
const UNMEASURED = 0.2;
/**
 * Spread of each margin over meshes and starts, in the margin's own unit: the standard deviation within an option, pooled over those whose mean margin lies within 1 of
 * the limit, to 0.05 (`npm run bench:spread`; 80 runs of 38 options, test/bench/README.md says which). Mouth, footprint and hanging: too little was measured.
 */
const SPREAD: Readonly<Partial<Record<Gate | 'nudge', number>>> = {
  heightKept: 0.25,
  topEdgeDrop: 0.4,
  wallLean: 0.3,
  bulge: 0.25,
  volumeKept: 0.25,
  nudge: 0.45,
};
/** Within this of the limit of "holds" a margin may lie on its other side with another mesh or another start. */
export const spreadOf = (gate: Gate | 'nudge'): number => SPREAD[gate] ?? UNMEASURED;

/** One figure's margin. */
export interface GateMargin {
  readonly gate: Gate | 'nudge';
  readonly margin: number;
}

/** May another mesh or start give another word? No figure misses its limit by more than its spread, and one lies within that of it. */
export const nearLimit = (margins: readonly GateMargin[]): boolean =>
  margins.every((m) => m.margin >= -spreadOf(m.gate)) && margins.some((m) => m.margin <= spreadOf(m.gate));

const DECIDES: ReadonlySet<string> = new Set(THRESHOLDS.filter((t) => t.decides).map((t) => t.gate));

/**
 * The same of the least of the margins that can make a bag slump, near the limit at which it does: the standard deviation over meshes and starts, pooled over bags whose mean lies
 * within 1 of that limit (`npm run bench:slump-limit`; 120 runs of 20 bags, test/bench/README.md): 0.2 of a box that gives way by degrees, 1.2 of a pouch that falls all at once.
 */
const SLUMP_SPREAD = 0.8;

/** May another mesh or start make it slump, or not? Its worst figure that can make it slump lies within the spread of that limit. */
export function nearSlump(margins: readonly GateMargin[]): boolean {
  const least = Math.min(...margins.filter((m) => DECIDES.has(m.gate)).map((m) => m.margin));
  return Math.abs(least - GONE) <= SLUMP_SPREAD;
}

const RANK = { holds: 0, softens: 1, slumps: 2 } as const;

interface Judged {
  readonly threshold: Threshold;
  readonly word: 'holds' | 'softens' | 'slumps';
  readonly margin: number;
}

/** Of two limits with the same word: height kept tells most of a bag that slumps, one that decides more of one that softens than one that does not; else the smaller margin. */
function outweighs(b: Judged, a: Judged): boolean {
  if (a.word === 'softens' && a.threshold.decides !== b.threshold.decides) return b.threshold.decides;
  if (a.word === 'slumps' && (a.threshold.gate === 'heightKept' || b.threshold.gate === 'heightKept')) return b.threshold.gate === 'heightKept';
  return b.margin < a.margin;
}

/** Margins of all that is judged of one shape at rest. */
export const gateMargins = (measures: Measures): readonly GateMargin[] => judgedOf(measures).map((j) => ({ gate: j.threshold.gate, margin: j.margin }));

function judgedOf(measures: Measures): readonly Judged[] {
  return THRESHOLDS.flatMap((threshold): Judged[] => {
    const value = gateValue(threshold.gate, measures);
    // A strap cut too long is a figure to mend at the table, not a bag that gives way: its row shows the miss, the word leaves it out.
    return value === null || threshold.gate === 'dropMiss' ? [] : [{ threshold, word: wordOf(threshold, value), margin: marginOf(threshold, value) }];
  });
}

/** Word of one shape at rest, the limit that decided it, and the smallest margin of all; null where nothing can be judged. A limit that decides outweighs one that does not. */
export function worstGate(measures: Measures): { word: 'holds' | 'softens' | 'slumps'; threshold: Threshold; margin: number } | null {
  const judged = judgedOf(measures);
  if (judged.length === 0) return null;
  const worst = judged.reduce((a, b) => (RANK[b.word] > RANK[a.word] || (b.word === a.word && outweighs(b, a)) ? b : a));
  return { ...worst, margin: Math.min(...judged.map((j) => j.margin)) };
}
