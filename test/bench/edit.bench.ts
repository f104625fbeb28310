// What an edit of the pattern costs: npm run bench:edit [TEMPLATE[,TEMPLATE]]. Parse to new sewn shape at about 2000 vertices (bar 500 ms), meshing at about 5000 (bar 300 ms).
// Middle of five, after one run to warm up.

import { draftPanels, meshPanels, parseBag, templates } from '../../src/index.ts';
import { placePanels } from '../../src/placement/place-panels.ts';

const asked = (process.argv[2] ?? '').split(',').filter((n) => n !== '');
const middle = (f: () => void): number => {
  f();
  const times = Array.from({ length: 5 }, () => {
    const begun = performance.now();
    f();
    return performance.now() - begun;
  });
  return times.sort((a, b) => a - b)[2];
};
/** Edge length at which the bag has about that many vertices. */
const edgeFor = (text: string, vertices: number): number => {
  const bag = parseBag(text);
  const draft = draftPanels(bag);
  const area = draft.panels.reduce((sum, p) => sum + p.area, 0);
  const h = Math.sqrt(area / (0.866 * vertices));
  return h * Math.sqrt(meshPanels(bag, draft, { edgeLength: h }).vertexCount / vertices);
};

console.log('| template | vertices | read and draft ms | mesh ms | sew ms | edit to shape ms (bar 500) | vertices | mesh ms (bar 300) |');
console.log(`|${'---|'.repeat(8)}`);
for (const { name, text } of templates()) {
  if (asked.length > 0 && !asked.includes(name)) continue;
  const h = edgeFor(text, 2000);
  const bag = parseBag(text);
  const draft = draftPanels(bag);
  const mesh = meshPanels(bag, draft, { edgeLength: h });
  const read = middle(() => draftPanels(parseBag(text)));
  const meshed = middle(() => meshPanels(bag, draft, { edgeLength: h }));
  const sewn = middle(() => placePanels(bag, draft, mesh));
  const fine = edgeFor(text, 5000);
  const finely = middle(() => meshPanels(bag, draft, { edgeLength: fine }));
  const { vertexCount } = meshPanels(bag, draft, { edgeLength: fine });
  const n = (v: number): string => v.toFixed(0);
  console.log(`| ${name} | ${mesh.vertexCount} | ${n(read)} | ${n(meshed)} | ${n(sewn)} | ${n(read + meshed + sewn)} | ${vertexCount} | ${n(finely)} |`);
}
