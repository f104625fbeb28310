/** Width and dashes of each pen, mm. */
import type { SheetLine } from './types.ts';

export const INKS: Readonly<Record<SheetLine['ink'], { readonly width: number; readonly dash: readonly number[]; readonly grey: number }>> = {
  cut: { width: 0.5, dash: [], grey: 0 },
  stitch: { width: 0.3, dash: [3, 1.5], grey: 0 },
  fold: { width: 0.3, dash: [8, 2, 1.5, 2], grey: 0 },
  mark: { width: 0.25, dash: [], grey: 0.15 },
  grain: { width: 0.35, dash: [], grey: 0.3 },
  frame: { width: 0.2, dash: [], grey: 0 },
};

/** Thousandths of a millimetre, without trailing zeros or "-0". */
export const n = (v: number): string => {
  const r = Math.round(v * 1000) / 1000;
  return String(r === 0 ? 0 : r);
};
