/** The table of outside check values, and a gate that prints value, expected, tolerance and source. */
import { readFileSync } from 'node:fs';
import { expect } from 'vitest';

export interface Row {
  readonly id: string;
  readonly section: string;
  readonly quantity: string;
  readonly value: unknown;
  readonly unit?: string;
  readonly detail?: string;
  readonly source: string;
  /** One of the words explained at the head of the table; sources.test.ts holds every row to them. */ readonly status: string;
  /** The work that was read; only of published rows. */ readonly reference?: Readonly<Record<string, string | number>>;
  /** false: shown, never gated, because the source leaves its convention open. */ readonly gate?: false;
  readonly tolerance?: string;
  readonly si_value?: unknown;
}

const table: { readonly status_words: Readonly<Record<string, string>>; readonly entries: readonly Row[] } = JSON.parse(
  readFileSync(new URL('../data/check-values.json', import.meta.url), 'utf8'),
);

/** The words a status may be, each with what it means. */
export const statusWords = table.status_words;

export const rows: readonly Row[] = table.entries;

/** The row of an id; several rows may share one (friction tables): the first is returned. */
export function row(id: string): Row {
  const found = rows.find((r) => r.id === id);
  if (!found) throw new Error(`no check value "${id}"`);
  return found;
}

/** Rows from memory, and those whose convention is open, are shown, never gated. */
export const gated = (r: Row): boolean => r.status !== 'from memory' && r.gate !== false;

export const numbers = (v: unknown): number[] => (Array.isArray(v) ? (v as number[]) : [v as number]);

/** Gates one row: every number within abs + rel x |expected|. Prints one line per row. `expected` defaults to the row's SI value. */
export function check(id: string, got: number | readonly number[], tolerance: { abs?: number; rel?: number }, expected?: number | readonly number[]): void {
  const r = row(id);
  const want = numbers(expected ?? r.si_value ?? r.value);
  const have = numbers(got);
  const say = `${id}: ${r.quantity}\n  got ${have.join(', ')}; expected ${want.join(', ')} +- ${tolerance.abs ?? 0} abs, ${tolerance.rel ?? 0} rel; ${r.source} [${r.status}]`;
  console.log(say);
  if (!gated(r)) return;
  expect(have.length, say).toBe(want.length);
  have.forEach((v, i) => {
    expect(Math.abs(v - want[i]), say).toBeLessThanOrEqual((tolerance.abs ?? 0) + (tolerance.rel ?? 0) * Math.abs(want[i]));
  });
}
