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
  readonly status: string;
  readonly tolerance?: string;
  readonly si_value?: unknown;
}

export const rows: readonly Row[] = JSON.parse(readFileSync(new URL('../data/check-values.json', import.meta.url), 'utf8')).entries;

/** The row of an id; several rows may share one (friction tables): the first is returned. */
export function row(id: string): Row {
  const found = rows.find((r) => r.id === id);
  if (!found) throw new Error(`no check value "${id}"`);
  return found;
}

/** Was the figure computed or read in a source? Rows from memory alone are shown, never gated. */
export const gated = (r: Row): boolean => /computed|published/.test(r.status) && !/uncertain|order of magnitude/.test(r.status);

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
