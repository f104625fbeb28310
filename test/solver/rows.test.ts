import { expect, test } from 'vitest';
import { entries, times, transposed } from '../../src/solver/elastic/rows.ts';
import { toEnd } from '../../src/solver/work.ts';
import { random } from './sheets.ts';

test('rows of 0 to 12 entries, given twice and in any order: product and transpose equal those of the full matrix to 1e-14', () => {
  const [n, m] = [40, 30],
    rand = random(5),
    full = Array.from({ length: n }, () => new Float64Array(m)),
    into = entries(n * 24);
  for (let i = 0; i < n; i++)
    for (let k = 0; k < 2 * (i % 13); k++) {
      const [j, v] = [Math.floor(m * rand()), rand() - 0.5];
      full[i]![j]! += v;
      into.add(i, j, v);
    }
  const rows = toEnd(into.rows(n)),
    back = toEnd(transposed(rows, m)),
    x = Float64Array.from({ length: m }, () => rand() - 0.5),
    y = Float64Array.from({ length: n }, () => rand() - 0.5),
    [ax, aty] = [new Float64Array(n), new Float64Array(m)];
  times(rows, -2, x, ax);
  times(back, 1, y, aty);
  expect(rows.value.length).toBeGreaterThan(n);
  for (let i = 0; i < n; i++) expect(Math.abs(ax[i]! + 2 * full[i]!.reduce((s, v, j) => s + v * x[j]!, 0)), `row ${i}`).toBeLessThan(1e-14);
  for (let j = 0; j < m; j++) expect(Math.abs(aty[j]! - full.reduce((s, row, i) => s + row[j]! * y[i]!, 0)), `column ${j}`).toBeLessThan(1e-14);
});
