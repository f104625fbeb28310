// Twelve sensible stacks on a structured bag, soft to stiff: npm run bench:stacks [PRESSED] [MESH MM]. Bar: at most 3 of 12 read "depends on the swatch".
// PRESSED: how its upright corners are pressed ("creased", "open", ...); "plain": nothing is stated and they turn freely.
// npm run bench:stacks ladder [MESH MM]: the same bag of one even cloth from 200 to 1500 uN.m, corners plain and creased. Bar: word and margin never fall as the rigidity rises.
import { type Band, type BandRun, previewBag } from '../../src/index.ts';
import { isWorse, judgeBand } from '../../src/report/index.ts';
import { evenStructured, structuredBag, TWELVE } from './twelve-stacks.ts';

const BANDS: readonly Band[] = ['low', 'mid', 'high'];
const LADDER = [200, 300, 400, 500, 600, 700, 800, 900, 1000, 1200, 1500];
const [asked = 'creased', mm = '20'] = process.argv.slice(2);
const edgeLength = Number(mm) / 1000;
const begun = process.cpuUsage();
const percent = (v: number | null): string => (v === null ? '-' : (100 * v).toFixed(1));
const degrees = (v: number | null): string => (v === null ? '-' : ((v * 180) / Math.PI).toFixed(1));

if (asked === 'ladder') ladder();
else twelve(asked === 'plain' ? undefined : asked);
const { user, system } = process.cpuUsage(begun);
console.log(`${((user + system) / 1e6).toFixed(0)} CPU s.`);

function twelve(pressed: string | undefined): void {
  const bag = structuredBag(pressed);
  console.log(`Corners ${pressed ?? 'not stated'}, mesh ${mm} mm; soft / typical / stiff\n`);
  console.log('| stack | word | soft / typical / stiff | height kept, % | lean, deg | margin | gives way first |');
  console.log(`|${'---|'.repeat(7)}`);
  let depends = 0;
  for (const { name } of TWELVE) {
    const { runs, verdict } = previewBag(bag, { option: name, bands: BANDS, edgeLength, askAgain: false, corners: false });
    if (verdict.word === 'depends on the swatch') depends++;
    const each = (f: (run: BandRun) => string): string => runs.map(f).join(' / ');
    console.log(
      `| ${[
        name,
        verdict.word,
        verdict.pips.map((p) => p.word).join(' / '),
        each((r) => percent(r.measures.heightKept)),
        each((r) => degrees(r.measures.wallLean)),
        each((r) => judgeBand(r).margin.toFixed(2)),
        verdict.givesWayFirst ?? '-',
      ].join(' | ')} |`,
    );
  }
  console.log(`\n${depends} of ${TWELVE.length} depend on the swatch (bar 3).`);
}

function ladder(): void {
  console.log(`Mesh ${mm} mm\n\n| D, uN.m | corners | word | height kept, % | lean, deg | bulge, % | nudge leaves, mm | margin |`);
  console.log(`|${'---|'.repeat(8)}`);
  let falls = 0;
  for (const pressed of [undefined, 'creased']) {
    let last: ReturnType<typeof judgeBand> | null = null;
    for (const d of LADDER) {
      const run = previewBag(evenStructured(d, pressed), { bands: ['mid'], edgeLength, askAgain: false, corners: false }).runs[0]!;
      const judged = judgeBand(run),
        { heightKept, wallLean, bulge } = run.measures;
      const left = run.nudge.tested ? (1000 * run.nudge.worstShift).toFixed(1) : 'not nudged';
      if (last && (isWorse(judged.word, last.word) || (judged.word !== 'slumps' && judged.margin < last.margin))) falls++;
      last = judged;
      console.log(
        `| ${[d, pressed ?? 'plain', judged.word, percent(heightKept), degrees(wallLean), percent(bulge), left, judged.margin.toFixed(2)].join(' | ')} |`,
      );
    }
  }
  console.log(`\nWord or margin falls at ${falls} of ${2 * (LADDER.length - 1)} steps (bar 0; margins of heaps are not counted).`);
}
