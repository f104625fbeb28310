import type { Bag } from '../bag/types.ts';
import { countCrossings, findCrossings, meshingPanels } from '../mesh/index.ts';
import { type BagMesh, pressedCorners } from '../mesh/types.ts';
import { libm, type Work } from '../numerics/index.ts';
import { boxedPart } from '../panels/index.ts';
import type { Draft, SideRun } from '../panels/types.ts';
import { baseVerts } from './base.ts';
import { type Core, findCore } from './core.ts';
import { spreadOnCap } from './embed.ts';
import { placingExtras } from './extras.ts';
import { prolong } from './prolong.ts';
import { Relaxer } from './relax.ts';
import { standUpright } from './upright.ts';
import { volume } from './volume.ts';

/** Vertices of the coarse mesh the shape is found on; the fine mesh only inherits it. */
const COARSE_VERTICES = 350;

/** Mean distance of opposite walls, over the root of the cloth's area, below which a start shape is not let go flat. */
const FLATTEST = 0.03;

/** Bending over stretching, in units of the cloth's area: strains from bending stay under 1e-3, panels come out flat. */
const BENDING = 2e-6;

/** Coarse mesh of the whole bag for shape finding; the fine one itself when that is coarse enough. */
export function* coarseMesh(bag: Bag, draft: Draft, fine: BagMesh): Work<BagMesh> {
  const area = draft.panels.reduce((sum, p) => sum + p.area, 0);
  // Equilateral triangles of side h take 0.866 h^2 per vertex.
  const h = Math.sqrt(area / (0.866 * COARSE_VERTICES));
  return h <= 1.3 * fine.quality.meanEdge ? fine : yield* meshingPanels(bag, draft, { edgeLength: h });
}

/**
 * Places one sewn group of any make: its body is spread on a cap, blown up, then let go until its panels are as flat and unstretched as its
 * seams allow, on a coarse mesh; the fine mesh inherits that shape and is relaxed once more.
 * In steps. Writes the group's vertices (3n, mutated). Returns what relaxed the fine mesh.
 */
export function* placingForm(bag: Bag, draft: Draft, coarse: BagMesh, fine: BagMesh, group: readonly number[], positions: Float64Array): Work<Relaxer> {
  const core = soundCore(bag, coarse, group);
  const x = new Float64Array(3 * coarse.vertexCount);
  const area = triangleAreas(coarse, core);
  const lengths = edgeLengths(coarse);
  const onBase = baseVerts(bag, coarse, core.panels);
  spreadOnCap(core, { area, lengthOf: (a, b) => lengths.get(Math.min(a, b) * coarse.vertexCount + Math.max(a, b)) ?? 0 }, onBase, x);
  const size = Math.sqrt(area.reduce((sum, a) => sum + a, 0));
  const verts = [...new Set(core.tris)];
  const relaxer = new Relaxer(coarse, new Set(core.panels), core, softness(bag, draft), smoothSeams(bag, draft));
  const stage = (pressure: number, more: { bending?: number; crease?: number; give?: number; onTable?: readonly number[] }): Work<number> =>
    relaxer.running(x, {
      onTable: more.onTable ?? onBase,
      bending: (more.bending ?? BENDING) * size * size,
      crease: (more.crease ?? 0) * size * size,
      give: more.give ?? 1,
      pressure: pressure / size,
      iterations: 20,
      tolerance: 2e-4 * size,
    });
  // Blown up with seams that bend like cloth and cloth that gives when shortened, or seams would crimp into dents that stay.
  yield* stage(0.1, { bending: 1e-4, crease: 1e-4, give: 0.1, onTable: [] });
  yield* stage(0.1, { bending: 1e-5, crease: 1e-5, give: 0.3, onTable: [] });
  standUpright(bag, coarse, core, verts, x);
  // The pressure is let off by steps until panels stand flat. A step that makes sheets meet (a zip's two edges, a flat tote's two sides) is
  // taken back and halved twice, in the logarithm, before that is the end of it.
  let pressure = 0.1;
  for (let factor = 0.1, refused = 0; pressure > 1e-5 * (1 + 1e-9) && refused < 3; ) {
    const before = x.slice();
    const next = Math.max(1e-5, pressure * factor);
    yield* stage(next, {});
    if ((2 * volume(x, core)) / (size * size) < FLATTEST * size || findCrossings(x, core.tris, 1).length > 0) {
      x.set(before);
      factor = Math.sqrt(factor);
      refused++;
    } else pressure = next;
  }
  standUpright(bag, coarse, core, verts, x);
  const placed = new Set(core.panels);
  const onWalls = yield* placingExtras(bag, coarse, group, placed, x);
  // A pocket and what hangs on it are laid on the fine wall after it has moved: carried over, a lift of millimetres is lost in the coarse wall's facets.
  for (const p of neighbours(draft, onWalls)) if (!core.panels.includes(p)) onWalls.add(p);
  const panels = [...placed].filter((p) => !onWalls.has(p)).sort((p, q) => p - q);
  yield;
  prolong(coarse, x, fine, positions, panels);
  yield;
  const relaxed = yield* relaxingFine(bag, draft, fine, core.panels, panels, pressure / size, size, positions);
  if (onWalls.size > 0) yield* placingExtras(bag, fine, group, new Set(panels), positions);
  return relaxed;
}

/** Panels sewn to any of these. */
const neighbours = (draft: Draft, panels: ReadonlySet<number>): number[] =>
  draft.seams.flatMap(({ sides }) => {
    const [a, b] = sides.map((side) => side.runs.map((run) => run.panel));
    return [...(a.some((p) => panels.has(p)) ? b : []), ...(b.some((p) => panels.has(p)) ? a : [])];
  });

/** A few steps on the fine mesh, which take the coarse mesh's facets out of bends; kept only if nothing more crosses. Lowest point back on the table. */
function* relaxingFine(
  bag: Bag,
  draft: Draft,
  fine: BagMesh,
  body: readonly number[],
  panels: readonly number[],
  pressure: number,
  size: number,
  x: Float64Array,
): Work<Relaxer> {
  const core = findCore(bag, fine, body);
  const onBase = baseVerts(bag, fine, body);
  const before = x.slice();
  const tris = panelTriangles(fine, new Set(panels));
  const crossings = countCrossings(x, tris);
  yield;
  const relaxer = new Relaxer(fine, new Set(panels), core, softness(bag, draft), smoothSeams(bag, draft));
  yield;
  yield* relaxer.running(x, {
    onTable: onBase,
    bending: BENDING * size * size,
    crease: 0,
    give: 1,
    pressure,
    iterations: fine.vertexCount > 3000 ? 2 : 3,
    tolerance: 1e-4 * size,
  });
  yield;
  if (countCrossings(x, tris) > crossings) x.set(before);
  const verts = [...new Set(core.tris)];
  const lowest = verts.reduce((least, v) => Math.min(least, x[3 * v + 2]), Number.POSITIVE_INFINITY);
  for (const v of new Set(tris)) x[3 * v + 2] -= lowest;
  return relaxer;
}

function panelTriangles(mesh: BagMesh, panels: ReadonlySet<number>): Uint32Array {
  const out: number[] = [];
  for (let t = 0; t < mesh.triPanel.length; t++) if (panels.has(mesh.triPanel[t])) out.push(...mesh.triVerts.subarray(3 * t, 3 * t + 3));
  return Uint32Array.from(out);
}

/** Seams that carry on one surface: a tube's own seam, and gusset to gusset. They bend like the cloth beside them; other seams are creases. */
function smoothSeams(bag: Bag, draft: Draft): Set<number> {
  const smooth = new Set<number>();
  draft.seams.forEach((seam, s) => {
    const [a, b] = seam.sides.map((side) => side.runs);
    // The sides of a bag with boxed corners are the two halves that its side seam joins.
    const sides = [...a, ...b].every((r) => isReturn(draft, r));
    const roles = new Set([...a, ...b].map((r) => (sides ? 'gusset' : bag.panels[r.panel].role)));
    if (seam.ratio > 1.02 || roles.size > 1 || !['gusset', 'body', 'strap', 'trim'].includes([...roles][0])) return;
    // Two edges that share a corner are a dart or a boxed corner: a crease.
    const dart = a.some((r) =>
      b.some((q) => r.panel === q.panel && (draft.panels[r.panel].edges[r.edge].next === q.edge || draft.panels[q.panel].edges[q.edge].next === r.edge)),
    );
    if (!dart) smooth.add(s);
  });
  return smooth;
}

/** Does a run bound the part of a panel with boxed corners that turns round the side? */
function isReturn(draft: Draft, run: SideRun): boolean {
  const boxed = draft.boxed[run.panel];
  return boxed !== null && boxedPart(boxed, draft.panels[run.panel].edges[run.edge].curve.at((run.from + run.to) / 2)) === 'return';
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
  const f = pressedCorners(mesh);
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
  const f = pressedCorners(mesh);
  for (let t = 0; t < mesh.triPanel.length; t++)
    for (let k = 0; k < 3; k++) {
      const j = (k + 1) % 3;
      const [a, b] = [mesh.triVerts[3 * t + k], mesh.triVerts[3 * t + j]];
      const key = Math.min(a, b) * mesh.vertexCount + Math.max(a, b);
      const rest = libm.hypot(f[6 * t + 2 * j] - f[6 * t + 2 * k], f[6 * t + 2 * j + 1] - f[6 * t + 2 * k + 1]);
      lengths.set(key, Math.min(rest, lengths.get(key) ?? Number.POSITIVE_INFINITY));
    }
  return lengths;
}

/** Resistance of cloth that is eased in without being gathered on purpose: so little that it does not stretch what it is eased onto. */
const EASED = 0.002;

/** Panels longer than what they are sewn to, with no gather stated, give way when shortened. */
function softness(bag: Bag, draft: Draft): number[] {
  const soft = draft.panels.map(() => 1);
  draft.seams.forEach((seam, s) => {
    if (seam.ratio > 1.05 && (bag.seams[s].gather ?? 1) <= 1) for (const run of seam.sides[seam.longer].runs) soft[run.panel] = EASED;
  });
  return soft;
}
