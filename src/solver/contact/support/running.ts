import type { Cables } from '../../types.ts';

/**
 * Straps that are let run over what they lie on until each leg is even, as a hand lets them when it hangs a bag up: nothing holds them along, nothing lets them
 * slide across, and each is held fast by its highest point. Without this, friction locks on the support whatever pull the way to rest happened to make there (9.66 N where the legs carry 6.05).
 */
export interface Running {
  /** Pairs of a point's neighbours along its strap, 2n; -1: the point lies on no strap between two others. */ readonly beside: Int32Array;
  /** 3n unit directions along the strap; nought off straps, where friction acts every way. */ readonly along: Float64Array;
  /** n: 1 where the strap is held fast. */ readonly fast: Uint8Array;
}

/** Straps of the cables at x (3n): chains of pieces from vertex to vertex; the highest vertex of each chain is held. */
export function createRunning(cables: Cables, x: Float64Array): Running {
  const n = x.length / 3,
    beside = new Int32Array(2 * n).fill(-1),
    count = new Uint8Array(n),
    top = new Map<number, number>(),
    chain = Int32Array.from({ length: n }, (_, v) => v);
  const root = (v: number): number => {
    let r = v;
    while (chain[r] !== r) r = chain[r]!;
    return r;
  };
  for (let p = 0; p < cables.cableOf.length; p++) {
    const from = cables.start[p]!;
    // A piece that ends in a patch of several vertices belongs to the cloth, and so do ties.
    if (cables.start[p + 1]! - from !== 2 || cables.cableOf[p]! >= (cables.ties?.first ?? Number.POSITIVE_INFINITY)) continue;
    const [a, b] = [cables.verts[from]!, cables.verts[from + 1]!];
    for (const [v, other] of [
      [a, b],
      [b, a],
    ] as const) {
      if (count[v]! < 2) beside[2 * v + count[v]!] = other;
      count[v]!++;
    }
    chain[root(a)] = root(b);
  }
  for (let v = 0; v < n; v++) {
    if (count[v] !== 2) {
      beside[2 * v] = -1;
      continue;
    }
    const r = root(v),
      highest = top.get(r);
    if (highest === undefined || x[3 * v + 2]! > x[3 * highest + 2]!) top.set(r, v);
  }
  const fast = new Uint8Array(n);
  for (const v of top.values()) fast[v] = 1;
  const running = { beside, along: new Float64Array(3 * n), fast };
  direct(running, x);
  return running;
}

/** Directions of the straps at x: along the line between a point's neighbours. Mutates `along`. */
export function direct({ beside, along }: Running, x: Float64Array): void {
  for (let v = 0; 2 * v < beside.length; v++) {
    const a = beside[2 * v]!,
      b = beside[2 * v + 1]!;
    if (a < 0) continue;
    const dx = x[3 * b]! - x[3 * a]!,
      dy = x[3 * b + 1]! - x[3 * a + 1]!,
      dz = x[3 * b + 2]! - x[3 * a + 2]!,
      l = Math.sqrt(dx * dx + dy * dy + dz * dz),
      i = l > 0 ? 1 / l : 0;
    along[3 * v] = i * dx;
    along[3 * v + 1] = i * dy;
    along[3 * v + 2] = i * dz;
  }
}

/**
 * The direction in which vertex v runs free, square to the unit normal n: along its strap; nowhere where the strap is held fast. Unit vector or nought, written to
 * `free`.
 */
export function freeWay({ along, fast }: Running, v: number, nx: number, ny: number, nz: number): void {
  const ax = along[3 * v]!,
    ay = along[3 * v + 1]!,
    az = along[3 * v + 2]!,
    an = ax * nx + ay * ny + az * nz,
    bx = ax - an * nx,
    by = ay - an * ny,
    bz = az - an * nz,
    l = Math.sqrt(bx * bx + by * by + bz * bz),
    i = l > 0 ? 1 / l : 0;
  const runs = fast[v] === 1 ? 0 : i;
  free.x = runs * bx;
  free.y = runs * by;
  free.z = runs * bz;
}

/** What freeWay() found. Mutable, one for all. */
export const free = { x: 0, y: 0, z: 0 };
