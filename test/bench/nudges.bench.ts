// Whether the screen of nudges (solver/README.md, "Nudges") ever changes a word: npm run bench:nudges [NAME[,NAME]] (about ten minutes). Every template and the demo tote, each
// option, soft to stiff, on a coarse mesh, and even boxes near their threshold: nudged from all four sides, and as the screen says. Bar: 0 words that differ.
import { readFileSync } from 'node:fs';
import { type Bag, type Band, parseBag, previewSync, templates } from '../../src/index.ts';
import { evenBox } from './even-box.ts';

const EDGE = 0.04;
const BANDS: readonly Band[] = ['low', 'mid', 'high'];
/** N*m, from where the box of 300 x 240 x 100 mm hardly stands to where nudges hardly move it; and its meshes, m. */
const RIGIDITIES = [4e-4, 4.5e-4, 5e-4, 5.75e-4, 6.5e-4, 7.25e-4, 8e-4, 9e-4, 1e-3, 1.12e-3, 1.25e-3, 1.37e-3, 1.5e-3, 1.75e-3, 2e-3, 3e-3];
const BOX_EDGES = [0.025, 0.02];
/** Parts of the names of the states that are asked for; none: all. */
const parts = (process.argv[2] ?? '').split(',');

let states = 0,
  unnudged = 0,
  words = 0,
  missed = 0,
  worstScreened = 0;
const seconds = { every: 0, screened: 0 };
console.log('| state | answer x / y mm (second order) | every nudge: shift mm | word | s | screened: sides | shift mm | word | s |');
console.log(`|${'---|'.repeat(9)}`);

const demo = { name: 'harbour-tote', text: readFileSync('demos/harbour-tote.bag.json', 'utf8') };
for (const { name, text } of [demo, ...templates()]) {
  // A flat tote is a heap for minutes, and nobody nudges a heap.
  if (name === 'flat-tote') continue;
  const bag = parseBag(text);
  for (const { name: option } of bag.options) for (const band of BANDS) compare(`${name} | ${option} | ${band}`, bag, EDGE, option, band);
}
for (const edge of BOX_EDGES) for (const D of RIGIDITIES) compare(`box of ${(D * 1e6).toFixed(0)} uN.m at ${edge * 1000} mm`, evenBox(D), edge, 'even', 'mid');

console.log(
  `\n${states} states were nudged; ${unnudged} of them by no side, since their answer was small (largest movement that every nudge left there ${worstScreened.toFixed(2)} mm)`,
);
console.log(`Words that differ: ${words} (bar 0). States that every nudge moves for good and the screen does not: ${missed} (bar 0).`);
console.log(`Nudges took ${seconds.every.toFixed(1)} s in all, screened ${seconds.screened.toFixed(1)} s.`);
if (words > 0 || missed > 0) process.exitCode = 1;

function compare(name: string, bag: Bag, edgeLength: number, option: string, band: Band): void {
  if (!parts.some((part) => name.includes(part))) return;
  const { name: stance } = bag.stances[0]!;
  const run = (everyNudge: boolean) => {
    const { runs, verdict } = previewSync(bag, { option, stance, edgeLength, bands: [band], everyNudge, now: () => performance.now() });
    return { word: verdict.word, nudge: runs[0]!.nudge, took: runs[0]!.seconds.nudge };
  };
  const every = run(true);
  if (!every.nudge.tested) return;
  const screened = run(false);
  states++;
  if (every.word !== screened.word) words++;
  if (screened.nudge.comesBack && !every.nudge.comesBack) missed++;
  if (screened.nudge.sides === 0) {
    unnudged++;
    worstScreened = Math.max(worstScreened, 1000 * every.nudge.worstShift);
  }
  seconds.every += every.took;
  seconds.screened += screened.took;
  const mm = (m: number) => (1000 * m).toFixed(2);
  const cells = [
    name.replaceAll(' | ', ', '),
    screened.nudge.answer?.map((a) => (a ? `${mm(a.linear)} (${mm(a.quadratic)})` : '-')).join(' / '),
    mm(every.nudge.worstShift),
    every.word,
    every.took.toFixed(2),
    screened.nudge.sides,
    mm(screened.nudge.worstShift),
    screened.word === every.word ? 'same' : `DIFFERS: ${screened.word}`,
    screened.took.toFixed(2),
  ];
  console.log(`| ${cells.join(' | ')} |`);
}
