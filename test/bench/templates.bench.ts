// Every template at 20 mm, each option, soft to stiff: npm run bench:templates [TEMPLATE[,TEMPLATE]] [BAND[,BAND]] [POINTS]. Bars: 0 crossings, rest under 1e-4 of a
// vertex's weight. POINTS: about so many mesh points each, instead of 20 mm.
// TEMPLATE may be "muslin": all templates in unlined muslin, the softest cloth; crossings of the two starts are counted as well.
import { readFileSync } from 'node:fs';
import { type Bag, type Band, countCrossings, type PreviewOptions, parseBag, prepare, previewBag, sew, templates } from '../../src/index.ts';
import { inMuslin } from './muslin.ts';

const EDGE = 0.02;
const BANDS: readonly Band[] = ['low', 'mid', 'high'];
const [names = '', bands = '', points = ''] = process.argv.slice(2);
const asked = names.split(',').filter((n) => n !== '');
const demo = { name: 'harbour-tote', text: readFileSync('demos/harbour-tote.bag.json', 'utf8') };

const all = [demo, ...templates()].flatMap((t) => [
  { name: t.name, keys: [t.name, 'options'], text: t.text },
  { name: t.name, keys: [`${t.name}-muslin`, 'muslin'], text: inMuslin(t.text) },
]);
const chosen = all.filter((t) => asked.length === 0 || asked.some((name) => t.keys.includes(name)));
if (chosen.length === 0) throw new Error(`unknown template "${names}": expected options, muslin, ${all.map((t) => t.keys[0]).join(', ')}`);

console.log(
  '| template | points | option | band | verdict | residual | status | stable | height kept | other filling | crossings: starts | end | settle s | nudge s | iterations |',
);
console.log(`|${'---|'.repeat(15)}`);
let crossings = 0,
  restless = 0,
  rows = 0;
for (const { name, text } of chosen) {
  const bag = parseBag(text),
    edge = edgeOf(bag);
  for (const option of bag.options) for (const band of BANDS) if (bands === '' || bands.split(',').includes(band)) row(name, bag, edge, option.name, band);
}
console.log(`\n${rows} runs: ${crossings} crossings (bar 0), ${restless} not at rest`);
if (crossings > 0) process.exitCode = 1;

function row(name: string, bag: Bag, edgeLength: number, option: string, band: Band): void {
  const wanted: PreviewOptions = { option, edgeLength, corners: false, bands: [band], now: () => performance.now() };
  const scene = prepare(bag, { ...wanted, band }),
    starts = [scene.drafted, scene.start, scene.inward()].map((x) => countCrossings(x, scene.mesh.triVerts)),
    { runs, verdict } = previewBag(bag, wanted),
    run = runs[0]!;
  crossings += run.contact.crossings + starts.reduce((a, b) => a + b, 0);
  if (run.status !== 'settled') restless++;
  rows++;
  const cells = [
    name,
    scene.mesh.vertexCount,
    option,
    band,
    verdict.word,
    run.residual.toExponential(1),
    run.status,
    run.stable,
    run.measures.heightKept?.toFixed(3) ?? '-',
    run.inward.ran ? (run.inward.heightKept?.toFixed(3) ?? '-') : '-',
    starts.join(' / '),
    run.contact.crossings,
    (run.seconds.setup + run.seconds.settle).toFixed(1),
    run.seconds.nudge.toFixed(1),
    run.iterations,
  ];
  console.log(`| ${cells.join(' | ')} |`);
}

/** m. Two steps: seams and corners keep their points, so that a mesh does not have as many more as its triangles are smaller. */
function edgeOf(bag: Bag): number {
  let edge = EDGE;
  if (points !== '') for (let k = 0; k < 2; k++) edge *= Math.sqrt(sew(bag, edge).mesh.vertexCount / Number(points));
  return edge;
}
