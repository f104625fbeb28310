import { expect, it } from 'vitest';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import type { BagMesh } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { placePanels } from '../../src/placement/place-panels.ts';

/** How far the pocket's free points lie before the front's cloth, along its face's normal at the nearest triangle's middle, m. */
function before(mesh: BagMesh, x: ArrayLike<number>): number[] {
  const number = (name: string) => mesh.panelNames.indexOf(name);
  const point = (v: number): number[] => [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
  const faces = Array.from(mesh.triPanel, (p, t) => ({ p, t }))
    .filter(({ p }) => p === number('front'))
    .map(({ t }) => {
      const [a, b, c] = [0, 1, 2].map((k) => point(mesh.triVerts[3 * t + k]));
      const [u, w] = [b.map((q, d) => q - a[d]), c.map((q, d) => q - a[d])];
      const n = [u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]];
      const size = Math.hypot(...n);
      return { middle: a.map((q, d) => (q + b[d] + c[d]) / 3), n: n.map((q) => q / size) };
    });
  const sewn = new Set(mesh.panelVerts[number('front')].verts);
  return Array.from(mesh.panelVerts[number('pocket')].verts)
    .filter((v) => !sewn.has(v))
    .map((v) => {
      const q = point(v);
      const far = ({ middle }: { middle: number[] }): number => Math.hypot(...middle.map((m, d) => m - q[d]));
      const near = faces.reduce((best, f) => (far(f) < far(best) ? f : best));
      return near.n.reduce((sum, n, d) => sum + n * (q[d] - near.middle[d]), 0);
    });
}

it.each([0.03, 0.025, 0.022, 0.016, 0.011])('the pocket of the backpack is placed outside its front, mesh %f m', (edgeLength) => {
  const bag = parseBag(newBag('backpack'));
  const draft = draftPanels(bag);
  const mesh = meshPanels(bag, draft, { edgeLength });
  const placed = placePanels(bag, draft, mesh);
  const lifts = before(mesh, placed.positions);
  const behind = lifts.filter((d) => d <= 0).length;
  console.log(
    `${edgeLength * 1000} mm: ${behind} of ${lifts.length} free points behind the front, from ${(Math.min(...lifts) * 1000).toFixed(2)} to ${(Math.max(...lifts) * 1000).toFixed(2)} mm before it; crossings ${placed.crossings}`,
  );
  expect(behind).toBe(0);
  expect(placed.crossings).toBe(0);
});
