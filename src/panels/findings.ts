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
    | 'sewn twice'
    | 'unsewn'
    | 'no seams'
    | 'loose panel'
    | 'sewn apart'
    | 'sewn over'
    | 'mouth sewn'
    | 'chain gap'
    | 'ring open'
    | 'turned round'
    | 'crossed'
    | 'ring'
    | 'rolled'
    | 'folded corner'
    | 'mouth in parts'
    | 'opening sewn'
    | 'angle sum'
    | 'mirrored'
    | 'too thick'
    | 'member'
    | 'row misses'
    | 'row strength'
    | 'grain';
  readonly panel: string;
  /** null when the whole panel is meant. */ readonly edge: string | null;
  readonly seam: string | null;
  /** The measured value in its SI unit (m, rad, or a plain ratio), for programs. */ readonly value: number;
  /** The figure with its unit, as a maker reads it: "4.2 mm (0.7 %)". */ readonly figure: string;
  /** One sentence that names panel, edge and figure. */ readonly text: string;
  /** The same in two halves, where the finding says what to do: what was found, and what was expected. */ readonly found?: string;
  readonly expected?: string;
}

/** A finding that says what to do. Parameters: where it is; what was found, a whole sentence; what was expected, the end of one. */
export const advised = (where: Omit<Finding, 'text' | 'found' | 'expected'>, found: string, expected: string): Finding => ({
  ...where,
  text: `${found} Expected ${expected}.`,
  found,
  expected,
});

export interface PatternCheck {
  /** It cannot be sewn as drawn. */ readonly faults: readonly Finding[];
  /** It can be sewn, but is probably not what is meant, or needs care. */ readonly warnings: readonly Finding[];
  /** Worth knowing at the cutting table. */ readonly notes: readonly Finding[];
}

/** Where checks write their findings. */
export interface FindingList {
  fault(finding: Finding): void;
  warning(finding: Finding): void;
  note(finding: Finding): void;
}

export const millimetres = (m: number): string => `${Number((m * 1000).toFixed(1))} mm`;
export const percent = (share: number): string => `${Number((100 * share).toFixed(1))} %`;
export const degrees = (angle: number): string => `${Number(((angle * 180) / Math.PI).toFixed(1))} deg`;
