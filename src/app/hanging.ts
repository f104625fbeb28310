import type { Bag, Result } from './core.ts';
import { stackLook } from './materials.ts';
import type { Hanging } from './view/straps.ts';

type V3 = readonly [number, number, number];

/** Level direction along a panel as it hangs, from the sum of its triangles' normals; [1, 0, 0] for one that lies level. */
function levelAlong(result: Result, x: ArrayLike<number>, panel: string): V3 {
  const { triPanel, triVerts, panelNames } = result.mesh;
  const own = panelNames.indexOf(panel);
  let [nx, ny] = [0, 0];
  for (let t = 0; t < triPanel.length; t++) {
    if (triPanel[t] !== own) continue;
    const [a, b, c] = [3 * triVerts[3 * t], 3 * triVerts[3 * t + 1], 3 * triVerts[3 * t + 2]];
    const [uy, uz, ux] = [x[b + 1] - x[a + 1], x[b + 2] - x[a + 2], x[b] - x[a]];
    const [vy, vz, vx] = [x[c + 1] - x[a + 1], x[c + 2] - x[a + 2], x[c] - x[a]];
    nx += uy * vz - uz * vy;
    ny += uz * vx - ux * vz;
  }
  const l = Math.hypot(nx, ny);
  return l > 1e-12 ? [-ny / l, nx / l, 0] : [1, 0, 0];
}

/** Straps of a settled run as the picture wants them. Parameter run: one of the result's, with a hung stance. */
export function hangingOf(bag: Bag, result: Result, run: Result['runs'][number]): Hanging {
  const stance = bag.stances.find((s) => s.name === result.stance);
  return {
    diameter: stance?.kind === 'hung' ? stance.diameter : 0.006,
    settled: run.positions,
    straps: run.straps.map(({ name, width, line }) => {
      const strap = bag.straps.find((s) => s.name === name);
      const across = (end: 0 | 1): V3 => levelAlong(result, run.positions, strap?.anchors[end].panel ?? '');
      return { line, width, across: [across(0), across(1)], look: stackLook(bag, strap?.stack ?? '') };
    }),
  };
}
