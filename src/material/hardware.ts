/** Figures of hardware: what one piece weighs, and how high a foot is. */
import type { Hardware } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { formatMm } from '../units/index.ts';
import { FOOT_HEIGHT, HARDWARE_ROWS } from './data/hardware-kinds.ts';
import type { Evidence } from './types.ts';

export interface HardwareFigures {
  /** kg of one piece. */ readonly mass: number;
  /** m */ readonly size: number;
  /** m off the table; 0 of all but feet. */ readonly height: number;
  readonly evidence: Evidence;
  readonly source: string;
}

/** Mass of one piece: as stated, or its kind's at the usual size times (size/usual)^2 of what is bent from wire or sheet, ^3 of what is solid. */
export function hardwareFigures(h: Pick<Hardware, 'kind' | 'size' | 'mass' | 'height'>): HardwareFigures {
  const stated = { evidence: 'stated', source: 'stated in the file' } as const;
  if (h.kind === 'other') return { mass: h.mass ?? 0, size: h.size ?? 0, height: 0, ...stated };
  const row = HARDWARE_ROWS[h.kind],
    size = h.size ?? row.size,
    by = size / row.size,
    height = h.kind === 'foot' ? (h.height ?? FOOT_HEIGHT) : 0;
  if (h.mass !== null) return { mass: h.mass, size, height, ...stated };
  return {
    mass: row.mass * (row.power === 3 ? libm.cube(by) : by * by),
    size,
    height,
    evidence: 'estimate',
    source: 'estimate: zinc and steel over plain volumes',
  };
}

const SEVERAL: Partial<Record<Hardware['kind'], string>> = { foot: 'feet', other: 'pieces' };

/** "4 feet of 12 mm"; "1 buckle of 25 mm". */
export function hardwareWords(h: Hardware): string {
  const { size } = hardwareFigures(h),
    one = h.kind === 'other' ? 'piece' : h.kind;
  return `${h.at.length} ${h.at.length === 1 ? one : (SEVERAL[h.kind] ?? `${h.kind}s`)}${size > 0 ? ` of ${formatMm(size)}` : ''}`;
}
