import { type BagMesh, pressedCorners } from '../mesh/types.ts';
import type { Work } from '../numerics/index.ts';
import { SymmetricSystem } from './linear.ts';
import { type Springs, springsOf } from './springs.ts';
import { addVolumeGradient, type Shell, volume } from './volume.ts';

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
   * @param corners rest corners of the triangles, 6 each, m; by default gathered cloth as if it were not
   * @param smoothSeams seams that bend like cloth (a tube's own seam); all others are free hinges
   * @param like another of the same mesh: where it joins the same points, its matrix is taken over, to be filled by one at a time
   */
  constructor(
    private readonly mesh: BagMesh,
    panels: ReadonlySet<number>,
    private readonly body: Shell,
    compression: readonly number[],
    smoothSeams: ReadonlySet<number>,
    corners: Float64Array = pressedCorners(mesh),
    like?: Relaxer,
  ) {
    this.springs = springsOf(mesh, panels, compression, smoothSeams, corners);
    const { verts, hinges } = this.springs;
    if (like && like.mesh === mesh && joinsTheSame(this.springs, like.springs)) {
      this.system = like.system;
      this.edgeSlots = like.edgeSlots;
      this.hingeSlots = like.hingeSlots;
      return;
    }
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
   * In steps: Newton steps with a positive definite model (slack springs lose their sideways stiffness), damped where a step does not lower the energy.
   * Mutates x (3n). Returns the number of steps taken.
   */
  *running(x: Float64Array, options: RelaxOptions): Work<number> {
    const n = this.mesh.vertexCount;
    const gradient = new Float64Array(3 * n);
    const step = new Float64Array(3 * n);
    const trial = new Float64Array(3 * n);
    let damping = 1e-4;
    const most = 0.25 * sizeOf(x);
    for (let it = 0; it < options.iterations; it++) {
      yield;
      const energy = this.assemble(x, options, gradient, damping);
      for (let tries = 0; ; tries++) {
        if (!(yield* this.system.factorising())) {
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
      const a = 3 * verts[2 * e];
      const b = 3 * verts[2 * e + 1];
      const dx = x[b] - x[a];
      const dy = x[b + 1] - x[a + 1];
      const dz = x[b + 2] - x[a + 2];
      const excess = Math.sqrt(dx * dx + dy * dy + dz * dz) - rest[e];
      sum += 0.5 * stiffness[e] * (excess < 0 ? soft[e] * options.give : 1) * excess * excess;
    }
    for (let h = 0; h < hinges.length; h += 4) {
      const bending = creased[h / 4] ? options.crease : options.bending;
      if (bending === 0) continue;
      for (let d = 0; d < 3; d++) {
        const s = bend(hinges, weights, x, h, d);
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
    const d = new Float64Array(3);
    H.fill(0);
    gradient.fill(0);
    for (let e = 0; e < rest.length; e++) {
      const a = 3 * verts[2 * e];
      const b = 3 * verts[2 * e + 1];
      d[0] = x[b] - x[a];
      d[1] = x[b + 1] - x[a + 1];
      d[2] = x[b + 2] - x[a + 2];
      const length = Math.sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]) || 1e-12;
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
        const s = bend(hinges, weights, x, h, d);
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

/** How far the four vertices of the hinge at entry h are bent in direction d, m: the weighted sum of their places. */
const bend = (hinges: Springs['hinges'], weights: Springs['weights'], x: Float64Array, h: number, d: number): number =>
  weights[h] * x[3 * hinges[h] + d] +
  weights[h + 1] * x[3 * hinges[h + 1] + d] +
  weights[h + 2] * x[3 * hinges[h + 2] + d] +
  weights[h + 3] * x[3 * hinges[h + 3] + d];

/** Same edges in the same order, whichever way round (a spring's block is symmetric), and the same hinges. */
function joinsTheSame(a: Springs, b: Springs): boolean {
  if (a.verts.length !== b.verts.length || a.hinges.length !== b.hinges.length) return false;
  for (let e = 0; e < a.verts.length; e += 2)
    if (!((a.verts[e] === b.verts[e] && a.verts[e + 1] === b.verts[e + 1]) || (a.verts[e] === b.verts[e + 1] && a.verts[e + 1] === b.verts[e]))) return false;
  return a.hinges.every((v, i) => v === b.hinges[i]);
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
