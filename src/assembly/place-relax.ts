import { type BagMesh, EDGE_FREE, EDGE_SEAM } from '../mesh/types.ts';
import { SymmetricSystem } from './place-linear.ts';
import { addVolumeGradient, type Shell, volume } from './place-volume.ts';

/** What the start shape is relaxed under. Stiffness is per unit: only ratios matter, C = 1 N/m. */
export interface RelaxOptions {
  /** Bending against stretching, m2: D / C. Small enough that bending strains stay under 1e-3, large enough that panels come out flat. */
  readonly bending: number;
  /** The same across seams that are not smooth, m2: 0 = free hinges. Some of it at first keeps a blown-up seam from crimping. */
  readonly crease: number;
  /** Resistance of a shortened edge as a share of a stretched one, on top of a panel's own. */ readonly give: number;
  /** Pressure from inside over C, 1/m: tension is pressure x radius. */
  readonly pressure: number;
  /** Vertices held on the table z = 0 (a base); may be empty. When not empty nothing may sink under the table either. */
  readonly onTable: readonly number[];
  /** Vertices that do not move. */
  readonly held?: Uint8Array;
  readonly iterations: number;
  /** Stop when no vertex moves more than this in a step, m. */
  readonly tolerance: number;
}

/** Springs of the surface: per edge two vertices, rest length, stiffness, share when shortened; per inner edge a bending stencil. */
interface Springs {
  readonly verts: Int32Array;
  readonly rest: Float64Array;
  readonly stiffness: Float64Array;
  readonly soft: Float64Array;
  readonly hinges: Int32Array;
  readonly weights: Float64Array;
  /** 1 where the hinge lies across a seam that is not smooth. */ readonly creased: Uint8Array;
}

/**
 * Springs along every triangle edge (k = C x area of its triangles / rest^2) and the quadratic bending stencil of Bergou et al. (2006) on
 * every edge inside a panel and along the smooth seams, unit D; other seams are free hinges, so panels meet at whatever angle they like. The longer (gathered) side of a
 * seam puts no spring on the seam itself: the shorter side sets its length.
 */
function springsOf(mesh: BagMesh, panels: ReadonlySet<number>, compression: readonly number[], smoothSeams: ReadonlySet<number>): Springs {
  const n = mesh.vertexCount;
  const sum = new Map<number, { a: number; b: number; rest: number; k: number; soft: number }>();
  const { triVerts, triFlat, triPanel } = mesh;
  for (let t = 0; t < triPanel.length; t++) {
    if (!panels.has(triPanel[t])) continue;
    const f = 6 * t;
    const area = ((triFlat[f + 2] - triFlat[f]) * (triFlat[f + 5] - triFlat[f + 1]) - (triFlat[f + 3] - triFlat[f + 1]) * (triFlat[f + 4] - triFlat[f])) / 2;
    for (let k = 0; k < 3; k++) {
      const j = (k + 1) % 3;
      const [a, b] = [triVerts[3 * t + k], triVerts[3 * t + j]];
      const rest = Math.hypot(triFlat[f + 2 * j] - triFlat[f + 2 * k], triFlat[f + 2 * j + 1] - triFlat[f + 2 * k + 1]);
      const key = Math.min(a, b) * n + Math.max(a, b);
      const old = sum.get(key);
      const soft = compression[triPanel[t]];
      if (!old || rest < 0.97 * old.rest) sum.set(key, { a, b, rest, k: area / (rest * rest), soft });
      else if (rest <= 1.03 * old.rest) {
        old.k += area / (rest * rest);
        old.soft = Math.max(old.soft, soft);
      }
    }
  }
  const list = [...sum.values()];
  const hinges: number[] = [];
  const weights: number[] = [];
  const creased: number[] = [];
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] === EDGE_FREE) continue;
    const [t, u] = [mesh.edgeTris[2 * e], mesh.edgeTris[2 * e + 1]];
    if (!panels.has(triPanel[t]) || !panels.has(triPanel[u])) continue;
    const [k, q] = [mesh.edgeLocal[2 * e], mesh.edgeLocal[2 * e + 1]];
    // Each triangle's angles at the edge's two ends come from its own flat shape: across a tube's seam the two lie in different places.
    const corner = (tri: number, c: number): [number, number] => [triFlat[6 * tri + 2 * (c % 3)], triFlat[6 * tri + 2 * (c % 3) + 1]];
    const cot = (tri: number, c: number): number => {
      const [p, a, b] = [corner(tri, c), corner(tri, c + 1), corner(tri, c + 2)];
      return ((a[0] - p[0]) * (b[0] - p[0]) + (a[1] - p[1]) * (b[1] - p[1])) / Math.abs((a[0] - p[0]) * (b[1] - p[1]) - (a[1] - p[1]) * (b[0] - p[0]));
    };
    const same = triVerts[3 * u + ((q + 1) % 3)] === mesh.edgeVerts[2 * e];
    const [c01, c03] = [cot(t, k + 1), cot(t, k + 2)];
    const [c02, c04] = same ? [cot(u, q + 1), cot(u, q + 2)] : [cot(u, q + 2), cot(u, q + 1)];
    const area = (tri: number): number => {
      const f = 6 * tri;
      return ((triFlat[f + 2] - triFlat[f]) * (triFlat[f + 5] - triFlat[f + 1]) - (triFlat[f + 3] - triFlat[f + 1]) * (triFlat[f + 4] - triFlat[f])) / 2;
    };
    const scale = Math.sqrt(3 / (area(t) + area(u)));
    // A panel sewn to itself round a cone may meet one vertex twice in a stencil.
    if (triVerts[3 * t + k] === triVerts[3 * u + q]) continue;
    creased.push(mesh.edgeKind[e] === EDGE_SEAM && !smoothSeams.has(mesh.edgeSeam[e]) ? 1 : 0);
    hinges.push(mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1], triVerts[3 * t + k], triVerts[3 * u + q]);
    weights.push(scale * (c03 + c04), scale * (c01 + c02), scale * (-c01 - c03), scale * (-c02 - c04));
  }
  return {
    verts: Int32Array.from(list.flatMap((s) => [s.a, s.b])),
    rest: Float64Array.from(list, (s) => s.rest),
    stiffness: Float64Array.from(list, (s) => s.k),
    soft: Float64Array.from(list, (s) => s.soft),
    hinges: Int32Array.from(hinges),
    weights: Float64Array.from(weights),
    creased: Uint8Array.from(creased),
  };
}

/** Relaxes one mesh; set up once, run under several loads. */
export class Relaxer {
  private readonly springs: Springs;
  private readonly system: SymmetricSystem;
  private readonly edgeSlots: Int32Array;
  private readonly hingeSlots: Int32Array;

  /**
   * @param panels panels that take part
   * @param body surface that holds the pressure
   * @param compression per panel: resistance of a shortened edge as a share of a stretched one (gathered cloth gives way)
   * @param smoothSeams seams that bend like cloth (a tube's own seam); all others are free hinges
   */
  constructor(
    private readonly mesh: BagMesh,
    panels: ReadonlySet<number>,
    private readonly body: Shell,
    compression: readonly number[],
    smoothSeams: ReadonlySet<number>,
  ) {
    this.springs = springsOf(mesh, panels, compression, smoothSeams);
    const { verts, hinges } = this.springs;
    const pairs: [number, number][] = [];
    for (let e = 0; e < verts.length; e += 2) pairs.push([verts[e], verts[e + 1]]);
    for (let h = 0; h < hinges.length; h += 4) for (let i = 0; i < 4; i++) for (let j = 0; j < i; j++) pairs.push([hinges[h + i], hinges[h + j]]);
    this.system = new SymmetricSystem(mesh.vertexCount, 3, pairs);
    const slot = (i: number, j: number): number => 9 * this.system.slot(i, j);
    this.edgeSlots = new Int32Array((3 * verts.length) / 2);
    for (let e = 0; 2 * e < verts.length; e++)
      this.edgeSlots.set([slot(verts[2 * e], verts[2 * e]), slot(verts[2 * e + 1], verts[2 * e + 1]), slot(verts[2 * e], verts[2 * e + 1])], 3 * e);
    this.hingeSlots = new Int32Array(4 * hinges.length);
    for (let h = 0; h < hinges.length; h += 4)
      for (let i = 0; i < 4; i++) for (let j = 0; j <= i; j++) this.hingeSlots[4 * h + 4 * i + j] = slot(hinges[h + i], hinges[h + j]);
  }

  /**
   * Newton steps with a positive definite model (slack springs lose their sideways stiffness), damped where a step does not lower the energy.
   * Mutates x (3n). Returns the number of steps taken.
   */
  run(x: Float64Array, options: RelaxOptions): number {
    const n = this.mesh.vertexCount;
    const gradient = new Float64Array(3 * n);
    const step = new Float64Array(3 * n);
    const trial = new Float64Array(3 * n);
    let damping = 1e-4;
    const most = 0.25 * sizeOf(x);
    for (let it = 0; it < options.iterations; it++) {
      const energy = this.assemble(x, options, gradient, damping);
      for (let tries = 0; ; tries++) {
        if (!this.system.factorise()) {
          damping = Math.max(1e-8, 10 * damping);
          this.assemble(x, options, gradient, damping);
          if (tries > 12) return it;
          continue;
        }
        this.system.solve(gradient, step);
        let slope = 0;
        let largest = 0;
        for (let i = 0; i < step.length; i++) {
          slope -= gradient[i] * step[i];
          largest = Math.max(largest, Math.abs(step[i]));
        }
        let scale = Math.min(1, most / largest);
        let accepted = false;
        for (let back = 0; back < 5; back++, scale /= 2) {
          for (let i = 0; i < x.length; i++) trial[i] = x[i] - scale * step[i];
          if (this.energy(trial, options) <= energy + 1e-4 * scale * slope) {
            accepted = true;
            break;
          }
        }
        if (accepted) {
          x.set(trial);
          damping = Math.max(1e-9, damping * (scale === 1 ? 0.2 : 1));
          if (largest * scale < options.tolerance) return it + 1;
          break;
        }
        damping = Math.max(1e-8, 10 * damping);
        if (tries > 12) return it;
        this.assemble(x, options, gradient, damping);
      }
    }
    return options.iterations;
  }

  private energy(x: Float64Array, options: RelaxOptions): number {
    const { verts, rest, stiffness, soft, hinges, weights, creased } = this.springs;
    let sum = 0;
    for (let e = 0; e < rest.length; e++) {
      const [a, b] = [3 * verts[2 * e], 3 * verts[2 * e + 1]];
      const excess = Math.hypot(x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]) - rest[e];
      sum += 0.5 * stiffness[e] * (excess < 0 ? soft[e] * options.give : 1) * excess * excess;
    }
    for (let h = 0; h < hinges.length; h += 4) {
      const bending = creased[h / 4] ? options.crease : options.bending;
      if (bending === 0) continue;
      for (let d = 0; d < 3; d++) {
        const s =
          weights[h] * x[3 * hinges[h] + d] +
          weights[h + 1] * x[3 * hinges[h + 1] + d] +
          weights[h + 2] * x[3 * hinges[h + 2] + d] +
          weights[h + 3] * x[3 * hinges[h + 3] + d];
        sum += 0.5 * bending * s * s;
      }
    }
    if (options.pressure !== 0) sum -= options.pressure * volume(x, this.body);
    if (options.onTable.length > 0) {
      for (const v of options.onTable) sum += 0.5 * TABLE * x[3 * v + 2] * x[3 * v + 2];
      for (let v = 2; v < x.length; v += 3) if (x[v] < 0) sum += 0.5 * TABLE * x[v] * x[v];
    }
    return sum;
  }

  /** Fills gradient (mutated) and the matrix; returns the energy. */
  private assemble(x: Float64Array, options: RelaxOptions, gradient: Float64Array, damping: number): number {
    const { verts, rest, stiffness, soft, hinges, weights, creased } = this.springs;
    const H = this.system.values;
    H.fill(0);
    gradient.fill(0);
    for (let e = 0; e < rest.length; e++) {
      const [a, b] = [3 * verts[2 * e], 3 * verts[2 * e + 1]];
      const d = [x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]];
      const length = Math.hypot(d[0], d[1], d[2]) || 1e-12;
      const k = stiffness[e] * (length < rest[e] ? soft[e] * options.give : 1);
      // d2E = k [n n' + (1 - l0/l)(I - n n')]; the second part only when stretched.
      const side = k * Math.max(0, 1 - rest[e] / length);
      const along = (k - side) / (length * length);
      const pull = (k * (length - rest[e])) / length;
      for (let i = 0; i < 3; i++) {
        gradient[a + i] -= pull * d[i];
        gradient[b + i] += pull * d[i];
        for (let j = 0; j < 3; j++) {
          const h = along * d[i] * d[j] + (i === j ? side : 0);
          H[this.edgeSlots[3 * e] + 3 * i + j] += h;
          H[this.edgeSlots[3 * e + 1] + 3 * i + j] += h;
          H[this.edgeSlots[3 * e + 2] + 3 * i + j] -= h;
        }
      }
    }
    for (let h = 0; h < hinges.length; h += 4) {
      const bending = creased[h / 4] ? options.crease : options.bending;
      if (bending === 0) continue;
      for (let d = 0; d < 3; d++) {
        const s =
          weights[h] * x[3 * hinges[h] + d] +
          weights[h + 1] * x[3 * hinges[h + 1] + d] +
          weights[h + 2] * x[3 * hinges[h + 2] + d] +
          weights[h + 3] * x[3 * hinges[h + 3] + d];
        for (let i = 0; i < 4; i++) gradient[3 * hinges[h + i] + d] += bending * s * weights[h + i];
      }
      for (let i = 0; i < 4; i++)
        for (let j = 0; j <= i; j++) {
          const at = this.hingeSlots[4 * h + 4 * i + j];
          const w = bending * weights[h + i] * weights[h + j];
          H[at] += w;
          H[at + 4] += w;
          H[at + 8] += w;
        }
    }
    if (options.pressure !== 0) addVolumeGradient(x, this.body, -options.pressure, gradient);
    const table = new Float64Array(this.mesh.vertexCount);
    if (options.onTable.length > 0) {
      for (const v of options.onTable) table[v] += TABLE;
      for (let v = 0; v < table.length; v++) if (x[3 * v + 2] < 0) table[v] += TABLE;
    }
    for (let v = 0; v < table.length; v++) {
      const at = 9 * this.system.slot(v, v);
      gradient[3 * v + 2] += table[v] * x[3 * v + 2];
      H[at + 8] += table[v];
      const held = options.held?.[v] ? HELD : 0;
      for (let d = 0; d < 3; d++) {
        H[at + 4 * d] += damping + held;
        if (held > 0) gradient[3 * v + d] = 0;
      }
    }
    return this.energy(x, options);
  }
}

/** Springs that hold the base to the table and vertices in place, against edge springs of about 1. */
const TABLE = 10;
const HELD = 1e9;

function sizeOf(x: Float64Array): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const c of x) {
    low = Math.min(low, c);
    high = Math.max(high, c);
  }
  return Math.max(high - low, 1e-6);
}
