import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { isBase } from './base.ts';
import type { Core } from './core.ts';
import { cross, dot, unit, type Vec } from './flat.ts';

/**
 * Turns a relaxed body the way it stands: up from its base, or out of its mouth; front at -y; its lowest point on z = 0; its middle over x = y = 0.
 * Up, in this order: against the outward normal of the base (panels, or what boxed corners turn under); the flat +y of front, back and side panels (drafted up the bag) when these
 * agree in space; the area vector of the mouth loop, when it opens at least a twentieth of a
 * circle of its girth; from the body's middle to the mouth's (a zip slit). Front, in this order: the outward normal of the front panels,
 * horizontally; else the long way of the body goes along x.
 * Mutates the positions of the listed vertices.
 */
export function standUpright(bag: Bag, mesh: BagMesh, core: Core, verts: readonly number[], x: Float64Array): void {
  const up = upOf(bag, mesh, core, x);
  let side: Vec = Math.abs(up[2]) > 0.9 ? [1, 0, 0] : [0, 0, 1];
  const standing = (role: string) => (t: number) => bag.panels[mesh.triPanel[t]].role === role && !isBase(bag, mesh, t);
  const front = meanNormal(mesh, core, x, standing('front'));
  const back = meanNormal(mesh, core, x, standing('back'));
  const face: Vec = [front[0] - back[0], front[1] - back[1], front[2] - back[2]];
  const level = (v: Vec): Vec => [v[0] - dot(v, up) * up[0], v[1] - dot(v, up) * up[1], v[2] - dot(v, up) * up[2]];
  const flat = level(face);
  if (libm.norm(flat) > 0.05 * libm.norm(face) && libm.norm(face) > 0) {
    // Front looks along -y: x = y cross z with y = -flat.
    side = cross([-flat[0], -flat[1], -flat[2]], up);
  } else side = longWay(verts, x, up, level(side));
  const ex = unit(level(side));
  const ey = cross(up, ex);
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const v of verts) {
    const p: Vec = [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
    [ex, ey, up].forEach((axis, d) => {
      const c = dot(p, axis);
      x[3 * v + d] = c;
      low[d] = Math.min(low[d], c);
      high[d] = Math.max(high[d], c);
    });
  }
  for (const v of verts) {
    x[3 * v] -= (low[0] + high[0]) / 2;
    x[3 * v + 1] -= (low[1] + high[1]) / 2;
    x[3 * v + 2] -= low[2];
  }
}

function upOf(bag: Bag, mesh: BagMesh, core: Core, x: Float64Array): Vec {
  const base = meanNormal(mesh, core, x, (t) => isBase(bag, mesh, t));
  if (libm.norm(base) > 0) return unit([-base[0], -base[1], -base[2]]);
  const drafted = draftedUp(bag, mesh, core, x);
  if (drafted) return drafted;
  const mouth = core.loops[0];
  if (!mouth) return [0, 0, 1];
  const area: [number, number, number] = [0, 0, 0];
  const middle: [number, number, number] = [0, 0, 0];
  let girth = 0;
  const at = (v: number): Vec => [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
  mouth.forEach((v, i) => {
    const [p, q] = [at(v), at(mouth[(i + 1) % mouth.length])];
    const c = cross(p, q);
    for (let d = 0; d < 3; d++) {
      area[d] += c[d] / 2;
      middle[d] += p[d] / mouth.length;
    }
    girth += libm.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
  });
  // Cloth on the left of the loop seen from outside: its area vector points into the bag.
  if (libm.norm(area) > (0.05 * girth * girth) / (4 * Math.PI)) return unit([-area[0], -area[1], -area[2]]);
  const body: [number, number, number] = [0, 0, 0];
  for (const v of core.tris) for (let d = 0; d < 3; d++) body[d] += x[3 * v + d] / core.tris.length;
  return unit([middle[0] - body[0], middle[1] - body[1], middle[2] - body[2]]);
}

/** Mean direction in space of the flat +y of the core's walls, area-weighted; null when they cancel (a tube that lies down) or there are none. */
function draftedUp(bag: Bag, mesh: BagMesh, core: Core, x: Float64Array): Vec | null {
  const sum: [number, number, number] = [0, 0, 0];
  let total = 0;
  const walls = new Set(core.panels.filter((p) => ['front', 'back', 'side', 'body'].includes(bag.panels[p].role)));
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (!walls.has(mesh.triPanel[t]) || isBase(bag, mesh, t)) continue;
    const f = mesh.triFlat.subarray(6 * t, 6 * t + 6);
    const [a, b, c] = [0, 1, 2].map((k) => 3 * mesh.triVerts[3 * t + k]);
    const twice = (f[2] - f[0]) * (f[5] - f[1]) - (f[3] - f[1]) * (f[4] - f[0]);
    // dx/dv of the linear map flat -> space, times the triangle's area.
    for (let d = 0; d < 3; d++) sum[d] += ((x[c + d] - x[a + d]) * (f[2] - f[0]) - (x[b + d] - x[a + d]) * (f[4] - f[0])) / 2;
    total += twice / 2;
  }
  return libm.norm(sum) > 0.5 * total && total > 0 ? unit(sum) : null;
}

/** Sum of the outward area vectors of the core's triangles that are wanted (by their number in the mesh), m2; zero when there is none. */
function meanNormal(mesh: BagMesh, core: Core, x: Float64Array, wanted: (t: number) => boolean): Vec {
  const sum: [number, number, number] = [0, 0, 0];
  let i = 0;
  for (const p of core.panels)
    for (let t = 0; t < mesh.triPanel.length; t++) {
      if (mesh.triPanel[t] !== p) continue;
      // core.tris holds the panels' triangles one panel after another, each in mesh order.
      const [a, b, c] = [3 * core.tris[3 * i], 3 * core.tris[3 * i + 1], 3 * core.tris[3 * i + 2]];
      i++;
      if (!wanted(t)) continue;
      const n = cross([x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]], [x[c] - x[a], x[c + 1] - x[a + 1], x[c + 2] - x[a + 2]]);
      for (let d = 0; d < 3; d++) sum[d] += n[d] / 2;
    }
  return sum;
}

/** Horizontal direction in which the body is spread widest (principal axis of its vertices). */
function longWay(verts: readonly number[], x: Float64Array, up: Vec, start: Vec): Vec {
  const a = unit(start);
  const b = cross(up, a);
  const flat = verts.map((v): [number, number] => {
    const p: Vec = [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
    return [dot(p, a), dot(p, b)];
  });
  const [ma, mb] = [0, 1].map((d) => flat.reduce((sum, p) => sum + p[d], 0) / flat.length);
  let [aa, ab, bb] = [0, 0, 0];
  for (const [p, q] of flat) {
    aa += libm.square(p - ma);
    ab += (p - ma) * (q - mb);
    bb += libm.square(q - mb);
  }
  const angle = libm.atan2(2 * ab, aa - bb) / 2;
  return [0, 1, 2].map((d) => libm.cos(angle) * a[d] + libm.sin(angle) * b[d]) as unknown as Vec;
}
