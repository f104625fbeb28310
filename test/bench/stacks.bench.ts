// Twelve sensible stacks on a structured bag, soft to stiff: npm run bench:stacks [PRESSED] [MESH MM]. Bar: at most 3 of 12 read "depends on the swatch".
// PRESSED: how its upright corners are pressed ("creased", "open", ...); left out, nothing is stated and they turn freely.
import { type Band, previewBag } from '../../src/index.ts';
import { judgeBand } from '../../src/report/index.ts';
import { structuredBag, TWELVE } from './twelve-stacks.ts';

const BANDS: readonly Band[] = ['low', 'mid', 'high'];
const [pressed = '', mm = '20'] = process.argv.slice(2);
const bag = structuredBag(pressed === '' ? undefined : pressed);
const begun = process.cpuUsage();
console.log(`Corners ${pressed === '' ? 'not stated' : pressed}, mesh ${mm} mm; figures soft / typical / stiff\n`);
console.log('| stack | word | soft / typical / stiff | height kept, % | lean, deg | margin | wanted: structured |');
console.log(`|${'---|'.repeat(7)}`);
let depends = 0;
for (const { name } of TWELVE) {
  const { runs, verdict } = previewBag(bag, { option: name, bands: BANDS, edgeLength: Number(mm) / 1000, askAgain: false });
  if (verdict.word === 'depends on the swatch') depends++;
  const each = (f: (run: (typeof runs)[number]) => string) => runs.map(f).join(' / ');
  console.log(
    `| ${name} | ${verdict.word} | ${verdict.pips.map((p) => p.word).join(' / ')} | ${each((r) => (100 * (r.measures.heightKept ?? Number.NaN)).toFixed(1))} | ${each((r) => (((r.measures.wallLean ?? Number.NaN) * 180) / Math.PI).toFixed(1))} | ${each((r) => judgeBand(r).margin.toFixed(2))} | ${verdict.wantedReason} |`,
  );
}
const { user, system } = process.cpuUsage(begun);
console.log(`\n${depends} of ${TWELVE.length} depend on the swatch (bar 3). ${((user + system) / 1e6).toFixed(0)} CPU s.`);
