import { expect, test } from 'vitest';
import { parseBag, templates } from '../../src/index.ts';
import { preview } from '../../src/run/preview-file.ts';
import { settlingBag } from '../../src/run/settle-bag.ts';
import { analyse, factorise, factorising } from '../../src/solver/sparse/index.ts';

const bucket = () => parseBag(templates().find((t) => t.name === 'bucket')!.text);

/** Steps of the set-up of a bucket at this edge length, m: until the solver first says where it is. */
function stepsOfSetUp(edgeLength: number): number {
  let begun = false;
  const work = settlingBag(bucket(), {
    edgeLength,
    bands: ['mid'],
    onProgress: () => {
      begun = true;
    },
  });
  let steps = 0;
  while (!begun && !work.next().done) steps++;
  return steps;
}

test('set-up looks up in between: at least 100 times for a bucket at 20 mm, and more often on a finer mesh', () => {
  // Lengths that nothing else is meshed with: shapes sewn last are kept.
  const coarse = stepsOfSetUp(0.0203),
    fine = stepsOfSetUp(0.0107);
  expect(coarse, 'of meshing, placing, analysis and the first step').toBeGreaterThan(100);
  expect(fine, `${coarse} at twice the edge length`).toBeGreaterThan(coarse);
});

test('a preview that is stopped in the 1st, 40th or 90th step of its set-up rejects with the signal’s reason before the solver has begun', async () => {
  for (const at of [1, 40, 90]) {
    let looked = 0,
      begun = false;
    // Read at the start and after every step.
    const signal = {
      get aborted() {
        return looked++ >= 2 * at;
      },
      reason: new Error(`stopped at ${at}`),
    };
    await expect(
      preview(bucket(), {
        edgeLength: 0.021 + at * 1e-5,
        signal,
        onProgress: () => {
          begun = true;
        },
      }),
    ).rejects.toThrow(`stopped at ${at}`);
    expect(looked, 'looked up no more after it was stopped').toBeLessThanOrEqual(2 * at + 2);
    expect(begun).toBe(false);
  }
});

test('a factorisation of 14400 blocks lets others look in at least 5 times, and its bytes are those of one at one go', () => {
  const side = 120,
    n = side * side,
    rowPtr = new Int32Array(n + 1),
    colIdx: number[] = [];
  for (let i = 0; i < n; i++) {
    const at = i % side;
    if (i >= 2 * side) colIdx.push(i - 2 * side);
    if (i >= side) for (let k = -1; k <= 1; k++) if (at + k >= 0 && at + k < side) colIdx.push(i - side + k);
    for (let k = 2; k >= 0; k--) if (at - k >= 0) colIdx.push(i - k);
    rowPtr[i + 1] = colIdx.length;
  }
  const pattern = { blockCount: n, blockSize: 3 as const, rowPtr, colIdx: Int32Array.from(colIdx) },
    values = new Float64Array(9 * colIdx.length);
  for (let i = 0; i < n; i++)
    for (let p = rowPtr[i]!; p < rowPtr[i + 1]!; p++) for (let k = 0; k < 3; k++) values[9 * p + 4 * k] = colIdx[p] === i ? 13 + 0.001 * (i % 7) : -1;
  const symbolic = analyse(pattern),
    whole = factorise(symbolic, values),
    work = factorising(symbolic, values);
  let looked = 0;
  for (let step = work.next(); ; step = work.next()) {
    if (step.done) {
      expect(step.value.failedAt).toBe(-1);
      // Compared by hand: a matcher takes minutes over so many numbers.
      expect(step.value.panels.length).toBe(whole.panels.length);
      expect(step.value.panels.findIndex((v, i) => v !== whole.panels[i])).toBe(-1);
      break;
    }
    looked++;
  }
  expect(looked).toBeGreaterThanOrEqual(5);
});
