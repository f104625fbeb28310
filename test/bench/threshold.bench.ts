// Rigidity at which a box bag gives way, over meshes: npm run bench:threshold (about five minutes). Bars: monotone in the rigidity, spread over meshes 12 %.
// The demo tote of 300 x 240 x 100 mm, every panel 340 g/m2 with C = 2e4 N/m in the plane, the same in every direction, Poisson 0, without allowances. A grid, not a search:
// a search would find a crossing where the heights go up and down.
import { previewBag } from '../../src/index.ts';
import { evenBox } from './even-box.ts';

/** Height kept under which the bag counts as given way: the limit of "slumps". */
const GIVEN_WAY = 0.85;
/** Heights that differ by less are alike: what two meshes of one standing bag differ by. */
const ALIKE = 0.02;
/** N*m */
const RIGIDITIES = [1.5e-4, 2e-4, 2.5e-4, 2.75e-4, 3e-4, 3.15e-4, 3.31e-4, 3.47e-4, 3.65e-4, 3.83e-4, 4.02e-4];

function settled(D: number, edgeLength: number) {
  const { runs, vertices } = previewBag(evenBox(D), { bands: ['mid'], edgeLength, skipNudge: true });
  return { run: runs[0], vertices };
}

console.log('Height kept from the outward / inward start (- where the inward one is not run); * not at rest\n');
console.log(`| mesh mm | vertices | ${RIGIDITIES.map((D) => `D = ${(1e4 * D).toFixed(1)}e-4`).join(' | ')} | monotone |`);
console.log(`|---|---|${RIGIDITIES.map(() => '---|').join('')}---|`);
const least: (number | null)[] = [];
let steady = true;
for (const edge of [20, 17, 14]) {
  let count = 0;
  const heights: number[] = [];
  const cells = RIGIDITIES.map((D) => {
    const { run, vertices } = settled(D, edge / 1000);
    count = vertices;
    heights.push(run.measures.heightKept ?? Number.NaN);
    const inward = run.inward.ran ? (run.inward.heightKept ?? Number.NaN).toFixed(2) : '-';
    return `${heights[heights.length - 1].toFixed(2)} / ${inward}${run.status === 'settled' ? '' : ' *'}`;
  });
  const monotone = heights.every((h, i) => i === 0 || h > heights[i - 1] - ALIKE);
  steady &&= monotone;
  // The least rigidity from which on everything stands.
  const from = heights.map((h) => h < GIVEN_WAY).lastIndexOf(true) + 1;
  least.push(from < RIGIDITIES.length ? RIGIDITIES[from] : null);
  console.log(`| ${edge} | ${count} | ${cells.join(' | ')} | ${monotone ? 'yes' : 'no'} |`);
}
const known = least.filter((v) => v !== null);
const spread = known.length === least.length ? `${(100 * (Math.max(...known) / Math.min(...known) - 1)).toFixed(0)} %` : 'some mesh never stands';
console.log(
  `\nStands from D = ${least.map((v) => (v === null ? 'none' : `${(1e4 * v).toFixed(1)}e-4`)).join(', ')} N*m on. Spread ${spread} (bar 12 %), monotone ${steady ? 'yes' : 'no'}.`,
);
