import type { Bag } from '../bag/types.ts';
import { findCrossings } from '../mesh/crossings.ts';
import { meshPanels } from '../mesh/meshPanels.ts';
import type { BagMesh } from '../mesh/types.ts';
import type { Draft } from '../panels/types.ts';
import { type Core, findCore } from './place-core.ts';
import { spreadOnCap } from './place-embed.ts';
import { prolong } from './place-prolong.ts';
import { Relaxer, volume } from './place-relax.ts';
import { standUpright } from './place-upright.ts';

/** Vertices of the coarse mesh the shape is found on; the fine mesh only inherits it. */
const COARSE_VERTICES = 500;

/** Coarse mesh of the whole bag for shape finding; the fine one itself when that is coarse enough. */
export function coarseMesh(bag: Bag, draft: Draft, fine: BagMesh): BagMesh {
  const area = draft.panels.reduce((sum, p) => sum + p.area, 0);
  // Equilateral triangles of side h take 0.866 h^2 per vertex.
  const h = Math.sqrt(area / (0.866 * COARSE_VERTICES));
  return h <= 1.3 * fine.quality.meanEdge ? fine : meshPanels(bag, draft, { edgeLength: h });
}

/**
 * Places one sewn group of any make: its body is spread on a cap, blown up, then let go until its panels are as flat and unstretched as its
 * seams allow, on a coarse mesh; the fine mesh inherits that shape and is relaxed once more.
 * Writes the group's vertices (3n, mutated).
 */
export function placeForm(bag: Bag, draft: Draft, coarse: BagMesh, fine: BagMesh, group: readonly number[], positions: Float64Array): void {
  const core = soundCore(bag, coarse, group);
  const x = new Float64Array(3 * coarse.vertexCount);
  const area = triangleAreas(coarse, core);
  const lengths = edgeLengths(coarse);
  const onBase = [...new Set(core.panels.filter((p) => bag.panels[p].role === 'base').flatMap((p) => [...coarse.panelVerts[p].verts]))];
  spreadOnCap(core, { area, lengthOf: (a, b) => lengths.get(Math.min(a, b) * coarse.vertexCount + Math.max(a, b)) ?? 0 }, onBase, x);
  const size = Math.sqrt(area.reduce((sum, a) => sum + a, 0));
  const verts = [...new Set(core.tris)];
  const relaxer = new Relaxer(coarse, new Set(core.panels), core.tris, softness(draft), smoothSeams(bag, draft));
  const stage = (pressure: number, bending: number, iterations: number, onTable: readonly number[]): number =>
    relaxer.run(x, { onTable, bending: bending * size * size, pressure: pressure / size, iterations, tolerance: 2e-4 * size });
  stage(0.1, 1e-6, 25, []);
  standUpright(bag, coarse, core, verts, x);
  stage(0.01, 1e-6, 20, onBase);
  stage(2e-4, 2e-6, 20, onBase);
  // Without the last of the pressure boxes stand straight; sheets with nothing between them would fall flat onto each other and stay apart instead.
  const blown = x.slice();
  const room = volume(x, core.tris, [0, 0, 0]);
  stage(1e-5, 2e-6, 25, onBase);
  if (volume(x, core.tris, [0, 0, 0]) < 0.5 * room || findCrossings(x, core.tris, 1).length > 0) x.set(blown);
  standUpright(bag, coarse, core, verts, x);
  if (coarse === fine) {
    for (const v of verts) for (let d = 0; d < 3; d++) positions[3 * v + d] = x[3 * v + d];
    return;
  }
  prolong(coarse, x, fine, positions, core.panels);
}

/** Seams that carry on one surface: a tube's own seam, and gusset to gusset. They bend like the cloth beside them; other seams are creases. */
function smoothSeams(bag: Bag, draft: Draft): Set<number> {
  const smooth = new Set<number>();
  draft.seams.forEach((seam, s) => {
    const [a, b] = seam.sides.map((side) => side.runs);
    const roles = new Set([...a, ...b].map((r) => bag.panels[r.panel].role));
    if (seam.ratio > 1.02 || roles.size > 1 || !['gusset', 'body', 'strap', 'trim'].includes([...roles][0])) return;
    // Two edges that share a corner are a dart or a boxed corner: a crease.
    const dart = a.some((r) =>
      b.some((q) => r.panel === q.panel && (draft.panels[r.panel].edges[r.edge].next === q.edge || draft.panels[q.panel].edges[q.edge].next === r.edge)),
    );
    if (!dart) smooth.add(s);
  });
  return smooth;
}

/** The group's core with panels dropped from the end of the list until it is a sphere with holes. */
function soundCore(bag: Bag, mesh: BagMesh, group: readonly number[]): Core {
  const core = findCore(bag, mesh, group);
  if (core.sphere) return core;
  for (let drop = core.panels.length - 1; drop >= 0; drop--) {
    const fewer = findCore(
      bag,
      mesh,
      core.panels.filter((_, i) => i !== drop),
    );
    if (fewer.sphere && fewer.panels.length === core.panels.length - 1) return fewer;
  }
  return core;
}

function triangleAreas(mesh: BagMesh, core: Core): Float64Array {
  const f = mesh.triFlat;
  const out: number[] = [];
  for (const p of core.panels)
    for (let t = 0; t < mesh.triPanel.length; t++)
      if (mesh.triPanel[t] === p)
        out.push(((f[6 * t + 2] - f[6 * t]) * (f[6 * t + 5] - f[6 * t + 1]) - (f[6 * t + 3] - f[6 * t + 1]) * (f[6 * t + 4] - f[6 * t])) / 2);
  return Float64Array.from(out);
}

/** Rest length of every edge by its two welded vertices; the shorter where two panels disagree (gathers). */
function edgeLengths(mesh: BagMesh): Map<number, number> {
  const lengths = new Map<number, number>();
  for (let t = 0; t < mesh.triPanel.length; t++)
    for (let k = 0; k < 3; k++) {
      const j = (k + 1) % 3;
      const [a, b] = [mesh.triVerts[3 * t + k], mesh.triVerts[3 * t + j]];
      const key = Math.min(a, b) * mesh.vertexCount + Math.max(a, b);
      const rest = Math.hypot(mesh.triFlat[6 * t + 2 * j] - mesh.triFlat[6 * t + 2 * k], mesh.triFlat[6 * t + 2 * j + 1] - mesh.triFlat[6 * t + 2 * k + 1]);
      lengths.set(key, Math.min(rest, lengths.get(key) ?? Number.POSITIVE_INFINITY));
    }
  return lengths;
}

/** Gathered panels give way when shortened: their fullness goes into folds finer than a start shape shows. */
function softness(draft: Draft): number[] {
  const soft = draft.panels.map(() => 1);
  for (const seam of draft.seams) if (seam.ratio > 1.05) for (const run of seam.sides[seam.longer].runs) soft[run.panel] = 0.02;
  return soft;
}
