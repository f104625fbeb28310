import { choleskyInPlace, choleskySolve } from '../dense-cholesky.ts';
import { lists } from '../lists.ts';
import type { Work } from '../work.ts';
import type { ArcReach } from './arc-blocks.ts';
import type { Elastic } from './elastic.ts';

/**
 * How the angle of each edge's arc turns with the angles nearby, from the rest shape alone: the row V_phi - V_y S^-1 L of bending.ts, with the condensed unknowns of the edge's
 * own triangles solved for and those further off held, and of its angles those of these triangles' sides. The whole row reaches over the mesh and dies away within a few
 * edges; what is left out costs the preconditioner (arc-blocks.ts) a few iterations of CG.
 * E edges; edge e has `angle` and `weight` at start[e] .. start[e + 1].
 */
interface ArcStencil {
  readonly start: Int32Array;
  readonly angle: Int32Array;
  readonly weight: Float64Array;
}

/** Edges or triangles gone through before others may look in. */
const SLICE = 3000;
/** Most condensed unknowns of an edge's two triangles, a few to spare where three panels meet. */
const MOST = 16;

function* arcStencil({ sheet, bending, model }: Elastic): Work<ArcStencil> {
  const { hingeTris, clampTris } = model,
    { m, K, condensedOf, condensedCoef, hinges } = sheet,
    { edges, edgeOf, arc, load, angles: A } = bending;
  const trisOf = lists(edges, (add) => {
      for (let q = 0; q < 3 * m; q++) add(edgeOf[q]!, (q / 3) | 0);
    }),
    anglesOf = lists(m, (add) => {
      for (let s = 0; s < hingeTris.length; s++) add(hingeTris[s]!, s >> 1);
      for (let c = 0; c < clampTris.length; c++) add(clampTris[c]!, hinges + c);
    }),
    sidesOf = lists(bending.condensed, (add) => {
      for (let q = 0; q < 3 * m; q++) if (condensedOf[q]! >= 0) add(condensedOf[q]!, q);
    }),
    springs = lists(bending.condensed, (add) => {
      for (let i = 0; i < bending.springs.length; i++) {
        add(bending.springs[i]![0], i);
        add(bending.springs[i]![1], i);
      }
    });
  const start = new Int32Array(edges + 1),
    angle: number[] = [],
    weight: number[] = [];
  const place = new Int32Array(bending.condensed).fill(-1),
    row = new Float64Array(A),
    near = new Uint8Array(A),
    unknowns = new Int32Array(MOST),
    S = new Float64Array(MOST * MOST),
    z = new Float64Array(MOST);
  for (let e = 0; e < edges; e++) {
    if (e % SLICE === 0) yield;
    let count = 0;
    const wanted: number[] = [];
    for (let i = trisOf.start[e]!; i < trisOf.start[e + 1]!; i++) {
      const t = trisOf.items[i]!;
      for (let k = 0; k < 3; k++) {
        const y = condensedOf[3 * t + k]!;
        if (y < 0 || place[y]! >= 0 || count === MOST) continue;
        place[y] = count;
        unknowns[count++] = y;
      }
      for (let j = anglesOf.start[t]!; j < anglesOf.start[t + 1]!; j++) {
        const h = anglesOf.items[j]!;
        if (near[h]) continue;
        near[h] = 1;
        wanted.push(h);
      }
    }
    // S among them: triangles, then the springs of seams.
    S.fill(0, 0, count * count);
    for (let i = 0; i < count; i++) {
      const y = unknowns[i]!;
      for (let p = sidesOf.start[y]!; p < sidesOf.start[y + 1]!; p++) {
        const q = sidesOf.items[p]!,
          t = (q / 3) | 0;
        for (let k = 0; k < 3; k++) {
          const o = condensedOf[3 * t + k]!,
            j = o < 0 ? -1 : place[o]!;
          if (j >= 0) S[count * i + j] = S[count * i + j]! + condensedCoef[q]! * condensedCoef[3 * t + k]! * K[3 * q + k]!;
        }
      }
      for (let p = springs.start[y]!; p < springs.start[y + 1]!; p++) {
        const [a, b, k] = bending.springs[springs.items[p]!]!,
          other = place[a === y ? b : a]!;
        S[(count + 1) * i] = S[(count + 1) * i]! + k;
        if (other >= 0) S[count * i + other] = S[count * i + other]! + k;
      }
    }
    z.fill(0, 0, count);
    for (let p = arc.start[e]!; p < arc.start[e + 1]!; p++) {
      const c = arc.column[p]!,
        v = arc.value[p]!;
      if (v === 0) continue;
      if (c < A) row[c] = row[c]! + v;
      else if (place[c - A]! >= 0) z[place[c - A]!] = z[place[c - A]!]! + v;
    }
    choleskyInPlace(S, count);
    choleskySolve(S, count, z);
    for (let i = 0; i < count; i++) {
      const y = unknowns[i]!;
      for (let p = load.start[y]!; p < load.start[y + 1]!; p++) if (load.value[p] !== 0) row[load.column[p]!] = row[load.column[p]!]! - z[i]! * load.value[p]!;
    }
    for (const h of wanted)
      if (row[h] !== 0) {
        angle.push(h);
        weight.push(row[h]!);
      }
    start[e + 1] = angle.length;
    for (const h of wanted) near[h] = 0;
    for (let i = 0; i < count; i++) {
      const y = unknowns[i]!;
      for (let p = load.start[y]!; p < load.start[y + 1]!; p++) row[load.column[p]!] = 0;
      place[y] = -1;
    }
    for (let p = arc.start[e]!; p < arc.start[e + 1]!; p++) if (arc.column[p]! < A) row[arc.column[p]!] = 0;
  }
  return { start, angle: Int32Array.from(angle), weight: Float64Array.from(weight) };
}

/** In steps: the vertices that each triangle's strain follows, and how. */
export function* arcReach(el: Elastic): Work<ArcReach> {
  const { n, m, triVerts } = el.sheet,
    { edges, edgeOf } = el.bending,
    stencil = yield* arcStencil(el);
  const vertStart = new Int32Array(m + 1),
    termStart = new Int32Array(3 * m + 1),
    verts: number[] = [],
    termAngle: number[] = [],
    termWeight: number[] = [],
    termSlots: number[] = [],
    slot = new Int32Array(n).fill(-1),
    first = new Uint8Array(3 * m),
    seen = new Uint8Array(edges);
  let most = 0;
  for (let t = 0; t < m; t++) {
    if (t % SLICE === 0) yield;
    const from = verts.length;
    const slotOf = (v: number): number => {
      if (slot[v]! < 0) {
        slot[v] = verts.length - from;
        verts.push(v);
      }
      return slot[v]!;
    };
    for (let k = 0; k < 3; k++) slotOf(triVerts[3 * t + k]!);
    for (let k = 0; k < 3; k++) {
      const e = edgeOf[3 * t + k]!;
      first[3 * t + k] = seen[e] ? 0 : 1;
      seen[e] = 1;
      for (let i = stencil.start[e]!; i < stencil.start[e + 1]!; i++) {
        const h = stencil.angle[i]!;
        termAngle.push(h);
        termWeight.push(stencil.weight[i]!);
        for (let c = 0; c < 4; c++) termSlots.push(slotOf(el.angles.verts[4 * h + c]!));
      }
      termStart[3 * t + k + 1] = termAngle.length;
    }
    for (let i = from; i < verts.length; i++) slot[verts[i]!] = -1;
    vertStart[t + 1] = verts.length;
    most = Math.max(most, verts.length - from);
  }
  return {
    vertStart,
    verts: Int32Array.from(verts),
    termStart,
    termAngle: Int32Array.from(termAngle),
    termWeight: Float64Array.from(termWeight),
    termSlots: Uint8Array.from(termSlots),
    first,
    most,
  };
}
