// Largest strain over four meshes: npm run bench:strain [EDGES in mm] (about five minutes). Over 20 mm as reports tell it (measures/patches.ts), and at single mesh points as
// maps show it: what converges is told, what does not is not. First row of each: panel; second: cloth along a seam; last: mesh points.
import { readFileSync } from 'node:fs';
import { leadRun, type PreviewOptions, parseBag, previewBag, settledMaps } from '../../src/index.ts';

const edges = (process.argv[2] ?? '24,18,14,11').split(',').map((mm) => Number(mm) / 1000);
const read = (name: string): Record<string, unknown> => JSON.parse(readFileSync(`demos/${name}-tote.bag.json`, 'utf8'));
const CASES: readonly (readonly [string, object, PreviewOptions])[] = [
  ['market tote, base board, on a hook with 2 kg', read('market'), { option: 'canvas, base board', stance: 'hung with 2 kg' }],
  ['market tote, base board, in two hands with 5 kg', read('market'), { option: 'canvas, base board', stance: 'carried in two hands' }],
  ['harbour tote, canvas and board, 1 kg in it', { ...read('harbour'), stances: { loaded: { load: '1 kg' } } }, { option: 'canvas, board, poplin' }],
  ['commuter tote, canvas and board, with things', read('commuter'), { option: 'canvas, board, poplin', stance: 'with things in it' }],
];
const percent = (v: number): string => (100 * v).toFixed(3);

console.log(`| bag | largest strain, % | ${edges.map((e) => `${e * 1000} mm`).join(' | ')} |`);
console.log(`|---|---|${edges.map(() => '---|').join('')}`);
for (const [name, file, asked] of CASES) {
  const found = edges.map((edgeLength) => {
    const result = previewBag(parseBag(JSON.stringify(file)), { ...asked, edgeLength, bands: ['mid'], skipNudge: true });
    const run = leadRun(result.runs),
      of = (kind: string): number => Math.max(0, ...(run.strain?.parts ?? []).filter((p) => p.kind === kind).map((p) => p.strain));
    return { panel: of('panel'), seam: of('seam'), points: settledMaps({ ...result, run }).strain.largest.value, rest: run.status };
  });
  for (const what of ['panel', 'seam', 'points'] as const)
    console.log(`| ${name} | ${what} | ${found.map((f) => `${percent(f[what])}${f.rest === 'settled' ? '' : ' !'}`).join(' | ')} |`);
}
