import type { Bag, Stance } from '../bag/types.ts';
import { keptWidth, meanRigidity, pressedHinge, thinned } from '../material/index.ts';
import type { BagLaminates, Laminate, SewnLayers } from '../material/types.ts';
import { feetOf } from '../mesh/index.ts';
import { type BagMesh, EDGE_FOLD, EDGE_FREE, EDGE_INNER, flatArea, restCorners } from '../mesh/types.ts';
import { libm, toEnd, type Work } from '../numerics/index.ts';
import type { Model, TensionOnly } from '../solver/types.ts';
import { eachAllowance } from './allowances.ts';
import { held } from './clips.ts';
import { eachFinish } from './finishes.ts';
import { assertClear, heldBase, pullOf, standsOn, tiltLoad } from './ground.ts';
import { eachHardware } from './hardware.ts';
import { eachInside } from './inside-seams.ts';
import { loadForces } from './load.ts';
import { eachMember, memberRods } from './members.ts';
import { seamSpring } from './seam-spring.ts';
import { sewnOn, warpIn } from './sewn-on.ts';

/** Narrowest allowance a seam spring is reckoned with, m: below it the spring would be that of the thread, not of the cloth. */
const LEAST_ALLOWANCE = 2e-3;

/**
 * The solver's model: mesh + laminates + start positions + stance. The one meeting place of shape, cloth and surroundings.
 * Masses: a third of each triangle's area times areal mass to each corner (lumped), scaled so that every part weighs its drafted area; allowances on their seams. Axes: the laminate's warp is x of each triangle's rest frame.
 * @param sewn what is stitched to the panels besides their stacks, of the same band as the laminates
 * @param placed 3n sewn start positions, m (gives clamps their direction and folded seams their rest angle)
 */
export const assemble = (bag: Bag, mesh: BagMesh, laminates: BagLaminates, sewn: SewnLayers, placed: Float64Array, stance: Stance): Model =>
  toEnd(assembling(bag, mesh, laminates, sewn, placed, stance));

/** The same in steps. */
export function* assembling(bag: Bag, mesh: BagMesh, laminates: BagLaminates, sewn: SewnLayers, placed: Float64Array, stance: Stance): Work<Model> {
  const m = mesh.triPanel.length;
  const triStretch = new Float64Array(4 * m);
  const triBend = new Float64Array(4 * m);
  const mass = new Float64Array(mesh.vertexCount);
  const taut = { tri: [] as number[], angle: [] as number[], stiffness: [] as number[], ease: [] as number[] };
  const corners = restCorners(mesh);
  const triRest = alongWarp(bag, mesh, laminates, corners);
  yield;
  const stitched = sewnOn(bag, mesh, laminates, sewn);
  yield;
  for (let t = 0; t < m; t++) {
    const panel = mesh.triPanel[t]!;
    const lam = laminates[panel]![mesh.triRegion[t]!]!;
    const third = (lam.arealMass * flatArea(mesh, t) * mesh.areaScale[panel]![mesh.triRegion[t]!]!) / 3;
    for (let k = 0; k < 3; k++) mass[mesh.triVerts[3 * t + k]!]! += third;
    // Gathered cloth stands in finer folds than the mesh draws: a shortened triangle is as stiff as all the cloth that was cut for it.
    const fullness = mesh.gathers ? flatArea(mesh, t) / flatArea(mesh, t, corners) : 1;
    for (const layer of lam.taut ?? []) {
      taut.tri.push(t);
      taut.angle.push(layer.angle);
      taut.stiffness.push(fullness * layer.stiffness);
      taut.ease.push(layer.ease);
    }
    const { inPlane, bending } = stitched.get(t) ?? lam;
    for (let k = 0; k < 4; k++) {
      triStretch[4 * t + k] = fullness * inPlane[k]!;
      triBend[4 * t + k] = fullness * bending[k]!;
    }
  }
  yield;
  eachAllowance(bag, mesh, sewn.allowances, (_, ends, kg) => {
    for (const v of ends) mass[v]! += kg / 2;
  });
  eachFinish(bag, mesh, sewn.allowances, sewn.finishes, (t, kg) => {
    for (let k = 0; k < 3; k++) mass[mesh.triVerts[3 * t + k]!]! += kg / 3;
  });
  eachInside(bag, mesh, laminates, sewn.inside, (t, less) => {
    for (let k = 0; k < 3; k++) mass[mesh.triVerts[3 * t + k]!]! -= less / 3;
  });
  eachMember(bag, mesh, (_, ends, kg) => {
    for (const v of ends) mass[v]! += kg / 2;
  });
  eachHardware(bag, mesh, (v, kg) => {
    mass[v]! += kg;
  });
  yield;
  const clamp = held(bag, mesh, placed);
  const rods = memberRods(bag, mesh, sewn.band, placed, clamp, stance);
  const gravity = pullOf(stance);
  const load = stance.kind !== 'held' && stance.load ? loadForces(bag, mesh, placed, stance.load) : null;
  if (stance.kind === 'standing' && stance.ground) {
    assertClear(stance, mesh, placed);
    if (load) tiltLoad(load, gravity);
    heldBase(bag, stance.ground, mesh, placed).forEach((h, v) => {
      if (h === 1) clamp.held[v] = 1;
    });
  }
  return {
    vertexCount: mesh.vertexCount,
    triVerts: mesh.triVerts,
    triRest,
    triStretch,
    triBend,
    mass,
    gravity,
    ...hinges(bag, mesh, laminates, sewn.allowances, placed),
    ...clamp,
    supports: stance.kind === 'standing' ? standsOn(stance, feetOf(bag, mesh), mesh.vertexCount) : [],
    ...(load ? { load } : {}),
    ...(rods ? { rods } : {}),
    ...(taut.tri.length > 0 ? { tensionOnly: tensionOnlyLayers(taut) } : {}),
  };
}

/** 6m rest corners of the triangles, m, x along the warp of what each is made of. corners: the same along the panels' own axes. */
export function alongWarp(bag: Bag, mesh: BagMesh, laminates: BagLaminates, corners: Float64Array = restCorners(mesh)): Float64Array {
  const out = new Float64Array(corners.length);
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const panel = mesh.triPanel[t]!;
    const warp = warpIn(bag.panels[panel]!, laminates[panel]![mesh.triRegion[t]!]!);
    const [c, s] = [libm.cos(warp), libm.sin(warp)];
    for (let k = 0; k < 3; k++) {
      const [u, v] = [corners[6 * t + 2 * k]!, corners[6 * t + 2 * k + 1]!];
      out[6 * t + 2 * k] = c * u + s * v;
      out[6 * t + 2 * k + 1] = -s * u + c * v;
    }
  }
  return out;
}

const tensionOnlyLayers = (of: Record<'tri' | 'angle' | 'stiffness' | 'ease', readonly number[]>): TensionOnly => ({
  tri: Uint32Array.from(of.tri),
  angle: Float64Array.from(of.angle),
  stiffness: Float64Array.from(of.stiffness),
  ease: Float64Array.from(of.ease),
});

/** Hinge tables in the solver's order; seams get the spring stated, or that of how they are pressed, or of their type. */
function hinges(bag: Bag, mesh: BagMesh, laminates: BagLaminates, allowances: BagLaminates, placed: Float64Array) {
  const verts: number[] = [];
  const tris: number[] = [];
  const local: number[] = [];
  const stiffness: number[] = [];
  const rest: number[] = [];
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    const kind = mesh.edgeKind[e]!;
    if (kind === EDGE_FREE) continue;
    const [t1, t2, k1, k2] = [mesh.edgeTris[2 * e]!, mesh.edgeTris[2 * e + 1]!, mesh.edgeLocal[2 * e]!, mesh.edgeLocal[2 * e + 1]!];
    const ends = [mesh.edgeVerts[2 * e]!, mesh.edgeVerts[2 * e + 1]!, mesh.triVerts[3 * t1 + k1]!, mesh.triVerts[3 * t2 + k2]!];
    verts.push(...ends);
    tris.push(t1, t2);
    local.push(k1, k2);
    if (kind === EDGE_INNER) {
      stiffness.push(Number.POSITIVE_INFINITY);
      rest.push(0);
      continue;
    }
    const of = (all: BagLaminates): Laminate[] => [t1, t2].map((t) => all[mesh.triPanel[t]!]![mesh.triRegion[t]!]!);
    const lams = of(laminates);
    if (kind === EDGE_FOLD) {
      const { width, angle } = bag.panels[mesh.triPanel[t1]!]!.lines[mesh.edgeLine[e]!]!.fold!;
      const spring = width > 0 ? seamSpring('fold', meanRigidity(lams[0]!), meanRigidity(lams[1]!), width) : 0;
      stiffness.push(spring);
      rest.push(spring > 0 ? (angle ?? dihedral(placed, ends)) : 0);
      continue;
    }
    const seam = bag.seams[mesh.edgeSeam[e]!]!;
    const width = Math.max(keptWidth(seam), LEAST_ALLOWANCE);
    const [a, b] = of(allowances).map((lam) => ({ ...lam, thinned: thinned(seam, lam.thickness) }));
    const pressed = seam.pressed ? pressedHinge(seam.pressed, a!, b!, width) : null;
    const [d1, d2] = lams.map((lam) => meanRigidity(lam) * thinned(seam, lam.thickness).across);
    const k = seam.hinge?.stiffness ?? pressed?.stiffness ?? seamSpring(seam.type, d1!, d2!, width);
    stiffness.push(k);
    rest.push(seam.hinge?.restAngle ?? (k > 0 ? (pressed?.set ?? 1) * dihedral(placed, ends) : 0));
  }
  return {
    hingeVerts: Uint32Array.from(verts),
    hingeTris: Uint32Array.from(tris),
    hingeLocal: Uint8Array.from(local),
    hingeStiffness: Float64Array.from(stiffness),
    hingeRest: Float64Array.from(rest),
  };
}

/** Angle between the two triangles on edge [e0 e1], corners o1 and o2; same sign as the solver's: positive where o1 and o2 fall away from the first normal. */
function dihedral(x: Float64Array, [e0, e1, o1, o2]: readonly number[]): number {
  const at = (v: number, w: number, k: number) => x[3 * v + k]! - x[3 * w + k]!;
  const e = [0, 1, 2].map((k) => at(e1!, e0!, k));
  const cross = (a: number[], b: number[]) => [a[1]! * b[2]! - a[2]! * b[1]!, a[2]! * b[0]! - a[0]! * b[2]!, a[0]! * b[1]! - a[1]! * b[0]!];
  const dot = (a: number[], b: number[]) => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
  const n1 = cross(
    e,
    [0, 1, 2].map((k) => at(o1!, e0!, k)),
  );
  const n2 = cross(
    [0, 1, 2].map((k) => at(o2!, e0!, k)),
    e,
  );
  const len = libm.hypot(e[0]!, e[1]!, e[2]!);
  return libm.atan2(dot(cross(n1, n2), e) / len, dot(n1, n2));
}

/** Every panel's finished mass, kg: areas times areal mass, regions counted with their own stacks, less what ends inside its seams, its allowances and finishes. */
export function panelMasses(bag: Bag, mesh: BagMesh, laminates: BagLaminates, sewn: Pick<SewnLayers, 'allowances' | 'finishes' | 'inside'>): Float64Array {
  const out = new Float64Array(mesh.panelNames.length);
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const p = mesh.triPanel[t]!;
    out[p]! += laminates[p]![mesh.triRegion[t]!]!.arealMass * flatArea(mesh, t) * mesh.areaScale[p]![mesh.triRegion[t]!]!;
  }
  eachInside(bag, mesh, laminates, sewn.inside, (t, less) => {
    out[mesh.triPanel[t]!]! -= less;
  });
  eachAllowance(bag, mesh, sewn.allowances, (panel, _, kg) => {
    out[panel]! += kg;
  });
  eachFinish(bag, mesh, sewn.allowances, sewn.finishes, (t, kg) => {
    out[mesh.triPanel[t]!]! += kg;
  });
  return out;
}
