// Whether a change of the code changed any settled shape: npm run bench:same-bytes. Settles every demo and template on coarse meshes and compares the SHA-256 of the
// positions with test/same-bytes/sums.json; `-- --write` keeps today's there, beside a row in CHANGELOG.md. `-- NAME` settles what has NAME in its name alone.
import { readFileSync, writeFileSync } from 'node:fs';
import { sumRuns, sumsOf } from '../same-bytes/runs.ts';

const FILE = 'test/same-bytes/sums.json';
const args = process.argv.slice(2);
const write = args.includes('--write'),
  part = args.find((a) => !a.startsWith('--')) ?? '';
const kept = JSON.parse(readFileSync(FILE, 'utf8')) as Record<string, Record<string, string>>;
const now: Record<string, Record<string, string>> = part === '' ? {} : { ...kept };
let moved = 0,
  sums = 0;
for (const r of sumRuns().filter((s) => s.name.includes(part))) {
  const begun = performance.now();
  const own = await sumsOf(r);
  now[r.name] = own;
  for (const [band, sum] of Object.entries(own)) {
    const same = kept[r.name]?.[band] === sum;
    sums++;
    if (!same) moved++;
    console.log(`${same ? 'same ' : 'MOVED'} ${sum.slice(0, 12)} ${band.padEnd(7)} ${r.name}`);
  }
  console.error(`  ${((performance.now() - begun) / 1000).toFixed(1)} s`);
}
console.log(`\n${sums} sums, ${moved} moved`);
if (write) writeFileSync(FILE, `${JSON.stringify(now, null, 1)}\n`);
else if (moved > 0) process.exitCode = 1;
