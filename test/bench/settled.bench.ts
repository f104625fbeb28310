/**
 * The states that the page opens with: every option of the example, whole band, settled on the quick mesh.
 * Prints how far the shipped ones are from those settled now; with --write, writes them to src/app/settled.
 */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { EDGE } from '../../src/app/page/store.ts';
import { packResults, unpackResults } from '../../src/app/settled/pack.ts';
import { parseBag, settleBag } from '../../src/index.ts';

const source = readFileSync('demos/harbour-tote.bag.json', 'utf8');
const bag = parseBag(source);
const results = bag.options.map(({ name }) => {
  const from = performance.now();
  const result = settleBag(bag, {
    option: name,
    stance: bag.stances[0].name,
    edgeLength: EDGE.quick,
    bands: ['low', 'mid', 'high'],
    now: () => performance.now(),
  });
  console.log(`${name}: ${result.verdict.word}, ${((performance.now() - from) / 1000).toFixed(1)} s`);
  return result;
});
const file = 'src/app/settled/harbour-tote.json';
if (existsSync(file)) {
  const shipped = unpackResults(JSON.parse(readFileSync(file, 'utf8')));
  for (const result of results) {
    const old = shipped.find((s) => s.option === result.option);
    const far = result.runs.map((run, i) => Math.max(...run.positions.map((x, j) => Math.abs(x - (old?.runs[i]?.positions[j] ?? Number.NaN)))));
    console.log(`${result.option}: shipped shapes off by ${far.map((f) => `${(f * 1000).toExponential(1)} mm`).join(', ')}; shipped word ${old?.verdict.word}`);
  }
}
if (process.argv.includes('--write')) {
  const text = JSON.stringify(packResults(createHash('sha256').update(source).digest('hex'), EDGE.quick, results));
  writeFileSync(file, `${text}\n`);
  console.log(`${file}: ${(text.length / 1000).toFixed(0)} kB`);
}
