// Is the word that is told early the one that the run ends with, and the word that follows the one of a run of its own? npm run bench:early-word [TEMPLATE[,TEMPLATE]] [POINTS]
// Every template and the demo tote, each option and unlined muslin, each end of the band, followed to rest. Bar: no word differs.
import { readFileSync } from 'node:fs';
import { type Bag, type Band, endThatFollows, parseBag, previewBag, sew, templates } from '../../src/index.ts';
import type { BandRun } from '../../src/report/types.ts';
import { inMuslin } from './muslin.ts';

const BANDS: readonly Band[] = ['mid', 'low', 'high'];
const [names = '', points = '700'] = process.argv.slice(2);
const asked = names.split(',').filter((n) => n !== '');
const demo = { name: 'harbour-tote', text: readFileSync('demos/harbour-tote.bag.json', 'utf8') };
const all = [demo, ...templates()].flatMap(({ name, text }) => [
  { name, text },
  { name, text: inMuslin(text) },
]);
const chosen = all.filter((t) => asked.length === 0 || asked.includes(t.name));
if (chosen.length === 0) throw new Error(`unknown template "${names}": expected ${[...new Set(all.map((t) => t.name))].join(', ')}`);

/** User CPU seconds: others share the machine. */
const seconds = (): number => process.cpuUsage().user / 1e6;
const sum = { rows: 0, early: 0, earlyWrong: 0, follow: 0, followWrong: 0, toRest: 0, toWord: 0, whole: 0, needed: 0 };

console.log('| template | option | band | word at rest | margin | its seconds | early word | at height | its seconds | height at rest | follows |');
console.log(`|${'---|'.repeat(11)}`);
for (const { name, text } of chosen) {
  const bag = parseBag(text),
    edge = edgeOf(bag);
  for (const option of bag.options) band(name, bag, edge, option.name);
}
console.log(
  `\n${sum.rows} runs: ${sum.early} words early, ${sum.earlyWrong} of them another one at rest (bar 0); those runs ${sum.toWord.toFixed(0)} s to the word, ${sum.toRest.toFixed(0)} s to rest`,
);
console.log(
  `${sum.follow} ends follow, ${sum.followWrong} of them of another word when run (bar 0); all bands ${sum.whole.toFixed(0)} s, those that are needed ${sum.needed.toFixed(0)} s`,
);
if (sum.earlyWrong + sum.followWrong > 0) process.exitCode = 1;

function band(name: string, bag: Bag, edgeLength: number, option: string): void {
  let middle: BandRun | null = null,
    first = '';
  for (const band of BANDS) {
    const begun = seconds();
    let early: { readonly word: string; readonly at: number; readonly kept: number } | null = null;
    const result = previewBag(bag, {
      option,
      edgeLength,
      bands: [band],
      askAgain: false,
      onWord: ({ word, heightKept }) => {
        early = { word, at: seconds() - begun, kept: heightKept };
      },
    });
    const took = seconds() - begun,
      { word } = result.verdict,
      run = result.runs[0]!;
    if (band === 'mid') [middle, first] = [run, word];
    const follows = band !== 'mid' && endThatFollows(middle!) === band;
    count(word, early, took, follows, first);
    const told = early as { readonly word: string; readonly at: number; readonly kept: number } | null;
    const wrong = (told !== null && told.word !== word) || (follows && first !== word);
    console.log(
      `| ${[name, option, band, word, result.verdict.margin.toFixed(2), took.toFixed(1), told?.word ?? '-', told?.kept.toFixed(3) ?? '-', told?.at.toFixed(1) ?? '-', run.measures.heightKept?.toFixed(3) ?? '-', follows ? first : '-'].join(' | ')} |${wrong ? ' DIFFERS' : ''}`,
    );
  }
}

function count(word: string, early: { readonly word: string; readonly at: number } | null, took: number, follows: boolean, first: string): void {
  sum.rows++;
  sum.whole += took;
  if (follows) {
    sum.follow++;
    if (first !== word) sum.followWrong++;
  } else sum.needed += took;
  if (early === null) return;
  sum.early++;
  sum.toRest += took;
  sum.toWord += early.at;
  if (early.word !== word) sum.earlyWrong++;
}

/** m. Two steps: seams and corners keep their points, so that a mesh does not have as many more as its triangles are smaller. */
function edgeOf(bag: Bag): number {
  let edge = 0.02;
  for (let k = 0; k < 2; k++) edge *= Math.sqrt(sew(bag, edge).mesh.vertexCount / Number(points));
  return edge;
}
