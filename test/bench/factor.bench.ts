import { allocateFactor, type BlockPattern, factorise, multiply, solve } from '../../src/solver/sparse/index.ts';
import { analyseAnew } from '../../src/solver/sparse/symbolic.ts';
import { boxBag, dominantValues, edgePattern, hingePattern } from '../solver/sparse-meshes.ts';

// Run: npx vite build --mode bench --ssr test/bench/factor.bench.ts && node dist/bench/factor.bench.js [vertices ...]
// Smallest of several runs: the machine is shared, and the smallest is what the code costs.

let sink = 0;

function best(runs: number, work: () => void): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < runs; i++) {
    const start = performance.now();
    work();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

function row(name: string, pattern: BlockPattern): void {
  const values = dominantValues(pattern, 1);
  const size = pattern.blockCount * pattern.blockSize;
  const start = performance.now();
  let symbolic = analyseAnew(pattern);
  const cold = performance.now() - start;
  const analysis = best(5, () => {
    symbolic = analyseAnew(pattern);
  });
  const factor = allocateFactor(symbolic);
  const plain = allocateFactor(symbolic, false);
  const runs = size > 20000 ? 8 : 20;
  // Taken in turns, so that a busy moment of the machine hits both.
  let factoring = Number.POSITIVE_INFINITY;
  let plainly = Number.POSITIVE_INFINITY;
  for (let i = 0; i < runs; i++) {
    factoring = Math.min(
      factoring,
      best(1, () => {
        sink += factorise(symbolic, values, factor).failedAt;
      }),
    );
    plainly = Math.min(
      plainly,
      best(1, () => {
        sink += factorise(symbolic, values, plain).failedAt;
      }),
    );
  }
  const rhs = new Float64Array(size).fill(1);
  const x = new Float64Array(size);
  const solving = best(30, () => {
    solve(symbolic, factor, rhs, x);
    sink += x[0];
  });
  const solvingPlain = best(30, () => {
    solve(symbolic, plain, rhs, x);
    sink += x[0];
  });
  const multiplying = best(30, () => {
    multiply(pattern, values, x, rhs);
    sink += rhs[0];
  });
  const cell = (v: number, digits = 1): string => v.toFixed(digits).padStart(8);
  console.log(
    `${name.padEnd(12)}${String(pattern.blockCount).padStart(7)}${cell(cold)}${cell(analysis)}${cell(factoring)}${cell(plainly)}${cell(solving, 2)}${cell(solvingPlain, 2)}${cell(multiplying, 2)}` +
      `${cell(symbolic.factorNonzeros / 1e6, 3)}${cell(symbolic.flops / 1e6)}${cell(symbolic.flops / factoring / 1e6, 2)}${String(symbolic.superCount).padStart(7)}`,
  );
}

const spacings = [
  [1000, 0.0142],
  [2000, 0.01],
  [5000, 0.0062],
  [10000, 0.00437],
  [20000, 0.0031],
];
const wanted = process.argv.slice(2).map(Number);
console.log('system       blocks    cold analyse  factor   plain   solve   plain  multiply  nnz/M  Mflops   GF/s  supers   (ms)');
for (const [size, spacing] of spacings) {
  if (wanted.length > 0 ? !wanted.includes(size) : size > 10000) continue;
  const sheet = boxBag(spacing);
  row('hinge', hingePattern(sheet));
  row('edge angle', edgePattern(sheet));
}
if (Number.isNaN(sink)) console.log('not a number');
