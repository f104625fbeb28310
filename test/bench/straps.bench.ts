// Bags with straps hung from everything they can hang from, under 0, 1, 3 and 6 kg: npm run bench:straps [NAME] [MESH mm, default 25] [MOST CPU s, default 60].
// First option, middle of the band, no nudge. Bar: anchors' upright pulls and the straps above them add up to the weight within 2 %.
import { readdirSync, readFileSync } from 'node:fs';
import { templates } from '../../src/bag/index.ts';
import { parseBag } from '../../src/bag/parse.ts';
import { Cancelled, prepare, previewBag } from '../../src/run/index.ts';

const [part = '', mesh = '25', most = '60'] = process.argv.slice(2);
const G = 9.80665;
const files = [
  ...templates().map((t) => ({ name: t.name, text: t.text })),
  ...readdirSync('demos')
    .filter((f) => f.endsWith('.bag.json'))
    .map((f) => ({ name: f.replace('.bag.json', ''), text: readFileSync(`demos/${f}`, 'utf8') })),
];
const cpu = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};
const counts = { rest: 0, not: 0, off: 0 };
console.log(
  `mesh ${mesh} mm\n\n| bag | from | kg | at rest | CPU s | steps | anchors and straps / weight | tilt deg | mouth sag mm | pull in a leg N |\n|---|---|---|---|---|---|---|---|---|---|`,
);
for (const { name, text } of files.filter((f) => f.name.includes(part))) {
  const parsed = parseBag(text);
  if (parsed.straps.length === 0) continue;
  const { stances: _, ...doc } = JSON.parse(text);
  for (const from of ['hook', 'bar', 'shoulder', 'hands'])
    for (const mass of [0, 1, 3, 6]) {
      const begun = cpu(),
        row = (...cells: string[]): void => console.log(`| ${[name, from, String(mass), ...cells].join(' | ')} |`);
      try {
        const bag = parseBag({ ...doc, stances: { hung: { kind: 'hung', from, ...(mass > 0 ? { load: { mass: `${mass} kg` } } : {}) } } }),
          o = { stance: 'hung', edgeLength: Number(mesh) / 1000 };
        const { model, rig } = prepare(bag, o);
        const above = rig.straps.flatMap((s) => s.nodes).reduce((sum, v) => sum + model.mass[v]! * G, 0);
        const run = previewBag(bag, { ...o, bands: ['mid'], skipNudge: true, onProgress: () => cpu() - begun < Number(most) }).runs[0]!;
        const h = run.hung!,
          share = (h.straps.flatMap((s) => s.anchors).reduce((sum, a) => sum + a.force[2], 0) + above) / h.weight,
          rests = run.status === 'settled';
        counts[rests ? 'rest' : 'not']++;
        if (rests && Math.abs(share - 1) > 0.02) counts.off++;
        row(
          rests ? 'yes' : `no: ${run.status}, ${run.residual.toExponential(1)}`,
          (cpu() - begun).toFixed(1),
          String(run.iterations),
          ...(rests
            ? [
                share.toFixed(4),
                ((h.tilt * 180) / Math.PI).toFixed(1),
                (1000 * (h.mouthDroop ?? 0)).toFixed(0),
                Math.max(...h.straps.map((s) => s.tension)).toFixed(1),
              ]
            : ['-', '-', '-', '-']),
        );
      } catch (error) {
        counts.not++;
        const why =
          error instanceof Cancelled
            ? `not in ${most} CPU s`
            : String((error as Error).message)
                .split('\n')[0]!
                .slice(0, 100);
        row(`no: ${why}`, (cpu() - begun).toFixed(1), '-', '-', '-', '-', '-');
      }
    }
}
console.log(`\n${counts.rest} at rest, ${counts.not} not; ${counts.off} of those at rest off by more than 2 %`);
