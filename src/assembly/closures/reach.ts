import { at, isPoint } from '../../bag/index.ts';
import { type Bag, BagError, type Fault } from '../../bag/types.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import type { LaidClosure } from './lay.ts';
import { liesOver } from './lead.ts';
import { spotAt } from './places.ts';

/** A flap that is short by less than this, m and share of its length, is reached by what it closes on: walls give. Chosen. */
const GIVES = 0.005;
const SHARE = 0.05;

/**
 * Refuses flaps that cannot reach: from every point where a flap is sewn to the bag its part must lie as far, flat, as the shortest way over the open edge of the panel that it
 * closes on, straight to that edge and straight on. No way outside is shorter, so what is refused cannot close unless the bag gives by as much. drafted: 3n, m. Throws BagError with every fault.
 */
export function assertReach(bag: Bag, mesh: BagMesh, drafted: Float64Array, laid: readonly LaidClosure[]): void {
  const faults = laid.flatMap(({ closure, pairs }): Fault[] => {
    if (!isPoint(closure) || !liesOver(bag, closure)) return [];
    const panel = mesh.panelNames.indexOf(closure.ends[0].panel),
      to = spotAt(pairs[0]!.spots[1], drafted),
      [u, v] = closure.ends[0].at;
    const others = new Set(mesh.panelVerts.flatMap((p, i) => (i === panel ? [] : [...p.verts])));
    const { verts, flat } = mesh.panelVerts[panel]!;
    const rim = rimOf(mesh, mesh.panelNames.indexOf(closure.ends[1].panel));
    let [miss, allowed] = [0, 0];
    verts.forEach((w, i) => {
      if (!others.has(w)) return;
      const cloth = libm.hypot(flat[2 * i]! - u, flat[2 * i + 1]! - v),
        way = overRim(drafted, w, to, rim) - closure.gap;
      if (way - cloth > miss) [miss, allowed] = [way - cloth, GIVES + SHARE * cloth];
    });
    if (miss <= allowed) return [];
    return [
      {
        path: at('closures', closure.name),
        got: `a ${closure.kind} whose flap stops ${Math.ceil(miss * 1000)} mm short of its other part`,
        expected: 'a flap that reaches: lengthen it, or move one of the two parts',
      },
    ];
  });
  if (faults.length > 0) throw new BagError(faults);
}

/** Points of a panel's open edges. */
function rimOf(mesh: BagMesh, panel: number): readonly number[] {
  const rim = new Set<number>();
  for (let e = 0; e < mesh.edgeKind.length; e++)
    if (mesh.edgeTris[2 * e + 1]! < 0 && mesh.triPanel[mesh.edgeTris[2 * e]!] === panel) rim.add(mesh.edgeVerts[2 * e]!).add(mesh.edgeVerts[2 * e + 1]!);
  return [...rim];
}

/** From vertex w to a place, over the rim where there is one, m. */
function overRim(x: Float64Array, w: number, to: readonly number[], rim: readonly number[]): number {
  const far = (v: number, p: readonly number[]): number => libm.norm([0, 1, 2].map((k) => x[3 * v + k]! - p[k]!));
  if (rim.length === 0) return far(w, to);
  return Math.min(...rim.map((r) => far(w, [x[3 * r]!, x[3 * r + 1]!, x[3 * r + 2]!]) + far(r, to)));
}
