/** Tables of `npm run bench:accuracy`, and the worst figure of each bar. */
import type { MeshKind } from '../../src/swatch/sheet.ts';

export const KINDS: readonly MeshKind[] = ['structured', 'equilateral', 'irregular'];
export const SIZES = [0.005, 0.0025];
const SEEDS = [1, 2, 3];
export const WEIGHT = 0.34;
export const G = 9.80665;
export const D = 1e-4;

export const head = (...cells: string[]) => {
  console.log(`| ${cells.join(' | ')} |`);
  console.log(`|${cells.map(() => '---').join('|')}|`);
};
export const line = (...cells: string[]) => console.log(`| ${cells.join(' | ')} |`);
export const fixed = (v: number, digits: number) => (Number.isFinite(v) ? `${v >= 0 ? '+' : ''}${v.toFixed(digits)}` : 'not settled');

/** The figure furthest from zero over the seeds of an irregular mesh; NaN when one did not settle. */
const worst = (kind: MeshKind, error: (seed: number) => number): number => {
  const all = (kind === 'irregular' ? SEEDS : [1]).map(error);
  return all.some((e) => !Number.isFinite(e)) ? Number.NaN : all.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
};

/** One cell "5 mm / 2.5 mm". */
export const pair = (kind: MeshKind, digits: number, error: (mesh: number, seed: number) => number, note?: (size: 0 | 1, error: number) => void): string =>
  SIZES.map((mesh, i) => {
    const off = worst(kind, (seed) => error(mesh, seed));
    note?.(i as 0 | 1, off);
    return fixed(off, digits);
  }).join(' / ');

/** The furthest off of each bar's figures at 5 and at 2.5 mm; NaN once one did not settle. */
const bars = new Map<string, { worst: [number, number]; where: [string, string]; at: readonly [number, number]; unit: string; plain: [number, number] }>();
export function bar(name: string, at: readonly [number, number], unit: string): (size: 0 | 1, error: number, where: string, arcs?: boolean) => void {
  const entry = { worst: [0, 0] as [number, number], where: ['', ''] as [string, string], at, unit, plain: [0, 0] as [number, number] };
  bars.set(name, entry);
  return (size, error, where, arcs = true) => {
    const off = Math.abs(error);
    const list = arcs ? entry.worst : entry.plain;
    if (Number.isNaN(list[size]) || off <= list[size]) return;
    list[size] = off;
    if (arcs) entry.where[size] = where;
  };
}

export const settledOr = (r: { status: string }, value: number): number => (r.status === 'settled' ? value : Number.NaN);

/** One row of a table whose error is the worst of several. `errors`: [name, error] at a mesh, m. */
export function family(
  name: string,
  read: string,
  limit: number,
  unit: string,
  errors: (mesh: number) => readonly (readonly [id: string, error: number])[],
): void {
  const note = bar(`${name}: ${read}`, [limit, limit], unit);
  const cells = SIZES.map((mesh, i) => {
    let [off, at] = [0, ''];
    for (const [id, error] of errors(mesh)) {
      note(i as 0 | 1, error, id);
      if (!(Math.abs(error) <= Math.abs(off))) [off, at] = [error, id];
    }
    return [fixed(off, 3), at];
  });
  line(name, `${read}, ${unit}`, String(limit), cells.map((c) => c[0]).join(' / '), cells.map((c) => c[1]).join(' / '));
}

/** One line per bar, met or missed. */
export function summary(): void {
  console.log('\n### Bars, worst figures at 5 / 2.5 mm. "Before": the same without arc-corrected edges, where it was run\n');
  head('test', 'before', 'now', 'bar', '', 'worst at');
  for (const [name, b] of bars) {
    const digits = b.unit === 'of 1' ? 5 : 2;
    const show = (v: readonly number[]) => v.map((e) => (Number.isFinite(e) ? e.toFixed(digits) : '-')).join(' / ');
    // A dash where nothing was run; a figure that is none (not settled) misses.
    const met = b.worst.map((e, i) => e <= b.at[i] || b.where[i] === 'not run');
    line(
      `${name}, ${b.unit}`,
      b.plain[0] === 0 ? '-' : show(b.plain),
      show(b.worst),
      b.at.join(' / '),
      met.every(Boolean) ? 'met' : `missed at ${met[0] ? '2.5 mm' : met[1] ? '5 mm' : 'both'}`,
      [...new Set(b.where)].join('; '),
    );
  }
}
