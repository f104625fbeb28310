import type { Bag } from '../bag/types.ts';
import { countCrossings } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { toEnd, type Work } from '../numerics/index.ts';
import type { Draft } from '../panels/types.ts';
import { boxFrames, layFrames } from './box.ts';
import { findCore } from './core.ts';
import { placingExtras } from './extras.ts';
import { flatFrame, layPanel } from './flat.ts';
import { coarseMesh, placingForm } from './form.ts';
import { fourWallFrames } from './four-walls.ts';
import { sewnGroups } from './graph.ts';
import { outwardNormals } from './normals.ts';
import { layByPoses, moveToPose } from './pose.ts';
import { ruffling } from './ruffle.ts';
import { strainOf } from './strain.ts';

export { bulge, bulging } from './stuffed.ts';

/** A sewn start shape. z up, table at z = 0, bag centred on x = y = 0, front at -y. */
export interface Placed {
  /** 3n, m */ readonly positions: Float64Array;
  /** 3n, unit, out of the bag (the face side); made when asked for, as are the next two. */ readonly normals: Float64Array;
  /** How each sewn group was placed, by its first panel: 'flat', 'box' or 'form'. */ readonly ways: readonly {
    readonly panels: readonly string[];
    readonly way: 'flat' | 'box' | 'form';
  }[];
  /** Pairs of triangles that pass through each other: 0 for every sound bag. */ readonly crossings: number;
  /** Mean and largest |length / rest length - 1| over all triangle edges, gathered cloth by its length as sewn. */ readonly strain: {
    readonly mean: number;
    readonly max: number;
  };
}

/**
 * Start positions of the sewn bag, without anybody arranging pieces.
 * An unsewn panel lies by its pose (default: face up on the table); a group whose panels all state poses lies by them; a group with one stated
 * pose is moved to it as a piece. A base with upright walls, or four walls without one, is placed exactly as a box; any other body is blown up and let go
 * (form.ts); what hangs on a body follows (extras.ts).
 * Assumes seams whose sides match or are gathered on purpose; a group whose body is no sphere with holes (a handle left in it) may come out crossing,
 * and `crossings` says so.
 */
export const placePanels = (bag: Bag, draft: Draft, mesh: BagMesh): Placed => toEnd(placingPanels(bag, draft, mesh));

/** The same in steps. */
export function* placingPanels(bag: Bag, draft: Draft, mesh: BagMesh): Work<Placed> {
  const positions = new Float64Array(3 * mesh.vertexCount);
  const ways: Placed['ways'][number][] = [];
  let coarse: BagMesh | undefined;
  for (const group of sewnGroups(draft)) {
    const panels = group.map((p) => draft.panels[p].name);
    if (group.length === 1 && !draft.seams.some((s) => s.sides[0].runs[0].panel === group[0])) {
      layPanel(mesh, group[0], flatFrame(bag.panels[group[0]], draft.panels[group[0]]), positions);
      ways.push({ panels, way: 'flat' });
      continue;
    }
    if (layByPoses(bag, draft, mesh, group, positions)) {
      ways.push({ panels, way: 'flat' });
      continue;
    }
    yield;
    const core = findCore(bag, mesh, group);
    const frames = boxFrames(bag, draft, core.panels) ?? fourWallFrames(bag, draft, core.panels);
    if (frames && layFrames(mesh, frames, positions) < 1e-9) {
      yield;
      yield* placingExtras(bag, mesh, group, new Set(core.panels), positions);
      yield* ruffling(bag, draft, mesh, group, positions);
      moveToPose(bag, draft, mesh, group, positions);
      ways.push({ panels, way: 'box' });
      continue;
    }
    coarse ??= yield* coarseMesh(bag, draft, mesh);
    const relaxer = yield* placingForm(bag, draft, coarse, mesh, group, positions);
    yield* ruffling(bag, draft, mesh, group, positions, relaxer);
    moveToPose(bag, draft, mesh, group, positions);
    ways.push({ panels, way: 'form' });
  }
  return asked({
    positions: () => positions,
    normals: () => outwardNormals(mesh, positions),
    ways: () => ways,
    crossings: () => countCrossings(positions, mesh.triVerts),
    strain: () => strainOf(mesh, positions),
  });
}

/** A record whose values are made when they are first read: whoever settles a bag wants its positions alone. */
function asked<T extends object>(makers: { readonly [K in keyof T]: () => T[K] }): T {
  const record = {} as T;
  for (const key of Object.keys(makers) as (keyof T)[]) {
    let made: { readonly value: T[typeof key] } | undefined;
    Object.defineProperty(record, key, { enumerable: true, get: () => (made ??= { value: makers[key]() }).value });
  }
  return record;
}
