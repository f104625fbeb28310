import { HANGING_OFF, type PhotoMarks, type Pixel } from '../core.ts';

export type ScaleBy = 'card' | 'ruler';

/** What is to be marked: which scale, whether a second place on the table, how many places along the strip. */
export interface Wanted {
  readonly by: ScaleBy;
  readonly second: boolean;
  readonly count: number;
}

type MarkKind = 'card' | 'ruler' | 'edge' | 'table' | 'strip';

/** One mark on the picture; `set`: the maker has put it there, before that it only waits. */
export interface Mark {
  readonly key: string;
  readonly kind: MarkKind;
  readonly n: number;
  readonly at: Pixel;
  readonly set: boolean;
}

/** Where marks wait, as shares of the picture: a card standing at the left, a strip hanging to the right. */
const WAITING: Readonly<Record<Exclude<MarkKind, 'strip'>, readonly Pixel[]>> = {
  card: [
    [0.14, 0.12],
    [0.34, 0.12],
    [0.34, 0.3],
    [0.14, 0.3],
  ],
  ruler: [
    [0.14, 0.12],
    [0.34, 0.12],
  ],
  edge: [[0.44, 0.32]],
  table: [[0.08, 0.32]],
};

const waitingStrip = (i: number, count: number): Pixel => {
  const q = (i + 1) / count;
  return [0.44 + 0.3 * Math.sin((q * Math.PI) / 2), 0.32 + 0.45 * (1 - Math.cos((q * Math.PI) / 2))];
};

/** The marks wanted, in the order in which they are put; those there already stay where they are. The strip's last mark stays its tip. */
export function marksFor(size: Pixel, wanted: Wanted, old: readonly Mark[]): Mark[] {
  const kinds: MarkKind[] = [wanted.by, 'edge', ...(wanted.second ? (['table'] as const) : []), 'strip'];
  const oldStrip = old.filter((m) => m.kind === 'strip');
  return kinds.flatMap((kind) => {
    const count = kind === 'strip' ? wanted.count : WAITING[kind].length;
    return Array.from({ length: count }, (_, i): Mark => {
      const tip = kind === 'strip' && i === count - 1;
      const before = kind === 'strip' ? (tip ? oldStrip.at(-1) : oldStrip.slice(0, -1)[i]) : old.find((m) => m.kind === kind && m.n === i);
      const [x, y] = kind === 'strip' ? waitingStrip(i, count) : WAITING[kind][i]!;
      return { key: tip ? 'tip' : `${kind} ${i + 1}`, kind, n: i, at: before?.at ?? [x * size[0], y * size[1]], set: before?.set ?? false };
    });
  });
}

/** Puts one mark; others stay. Places outside are moved to the border. */
export function withMark(marks: readonly Mark[], key: string, [x, y]: Pixel, size: Pixel): Mark[] {
  const at: Pixel = [Math.min(size[0], Math.max(0, x)), Math.min(size[1], Math.max(0, y))];
  return marks.map((m) => (m.key === key ? { ...m, at, set: true } : m));
}

const placesOf = (marks: readonly Mark[], kind: MarkKind): Pixel[] => marks.filter((m) => m.kind === kind).map((m) => m.at);

/** The marks as the core reads them. Parameters: distance of two ruler marks, m; how far a corner may be off, m, or null; size of a whole picture, pixels, or null; length that hangs, m, where it was measured. */
export function photoMarks(
  marks: readonly Mark[],
  by: ScaleBy,
  apart: number,
  scaleNoise: number | null,
  size: Pixel | null,
  hanging: number | null,
): PhotoMarks {
  return {
    card: by === 'card' ? placesOf(marks, 'card') : null,
    ruler: by === 'ruler' ? { marks: placesOf(marks, 'ruler'), apart } : null,
    table: [...placesOf(marks, 'edge'), ...placesOf(marks, 'table')],
    strip: placesOf(marks, 'strip'),
    scaleNoise,
    size: by === 'card' ? size : null,
    ...(hanging === null ? {} : { measured: { length: hanging, off: HANGING_OFF } }),
  };
}
