import type { Bag } from '../bag/types.ts';
import { checkCorners, checkCurves, checkOutlines } from './check-panels.ts';
import { checkChains, checkLengths, checkOpenings, checkTwist } from './check-seams.ts';
import type { Draft } from './types.ts';

/** One finding of a pattern check: what, where, and the figure that shows it. */
export interface Finding {
  readonly kind:
    | 'crosses itself'
    | 'drawn clockwise'
    | 'sharp corner'
    | 'short edge'
    | 'tight curve'
    | 'clip marks'
    | 'mismatch'
    | 'gather'
    | 'corners apart'
    | 'chain broken'
    | 'twisted'
    | 'unsewn'
    | 'opening sewn'
    | 'angle sum'
    | 'grain';
  readonly panel: string;
  /** null when the whole panel is meant. */ readonly edge: string | null;
  readonly seam: string | null;
  /** The measured value in its SI unit (m, rad, or a plain ratio), for programs. */ readonly value: number;
  /** The figure with its unit, as a maker reads it: "4.2 mm (0.7 %)". */ readonly figure: string;
  /** One sentence that names panel, edge and figure. */ readonly text: string;
}

export interface PatternCheck {
  /** It cannot be sewn as drawn. */ readonly faults: readonly Finding[];
  /** It can be sewn, but is probably not what is meant, or needs care. */ readonly warnings: readonly Finding[];
  /** Worth knowing at the cutting table. */ readonly notes: readonly Finding[];
}

/**
 * What a pattern cutter looks for before cutting: lengths of both sides of every seam, ease and gathers, twisted and broken pairings, edges
 * left unsewn, tight curves, sharp corners, angle sums, grain. Thresholds are common practice, stated where they are used.
 * Assumes a draft of the same bag. Never throws.
 */
export function checkPattern(bag: Bag, draft: Draft): PatternCheck {
  const faults: Finding[] = [];
  const warnings: Finding[] = [];
  const notes: Finding[] = [];
  const book: Book = { fault: (f) => faults.push(f), warning: (f) => warnings.push(f), note: (f) => notes.push(f) };
  for (const check of [checkOutlines, checkLengths, checkChains, checkTwist, checkOpenings, checkCurves, checkCorners]) check(bag, draft, book);
  return { faults, warnings, notes };
}

/** Where checks write their findings. */
export interface Book {
  fault(finding: Finding): void;
  warning(finding: Finding): void;
  note(finding: Finding): void;
}

export const millimetres = (m: number): string => `${Number((m * 1000).toFixed(1))} mm`;
export const percent = (share: number): string => `${Number((100 * share).toFixed(1))} %`;
export const degrees = (angle: number): string => `${Number(((angle * 180) / Math.PI).toFixed(1))} deg`;
