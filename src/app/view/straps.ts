import { BufferAttribute, BufferGeometry, Mesh, type RawShaderMaterial } from 'three';
import type { ClothLook } from './palette.ts';
import { clothProgram, type SharedUniforms } from './programs.ts';

type V3 = readonly [number, number, number];

/** A strap where it hangs. */
export interface StrapLine {
  /** 3 per point, m, from one patch to the other. */ readonly line: ArrayLike<number>;
  /** m */ readonly width: number;
  /** Level directions across the strap where it is sewn on: first and second end. */ readonly across: readonly [V3, V3];
  readonly look: ClothLook;
}

/** What a hung bag's picture shows besides the bag. */
export interface Hanging {
  readonly straps: readonly StrapLine[];
  /** Of the hook's wire, the bar, the shoulder or a hand's grip, m. */ readonly diameter: number;
  /** Held by two hands, half of the straps each, and not by one rod. */ readonly inHands: boolean;
  /** 3n positions, settled or where a fall begins, m: a bag that swings sideways must be seen whole. */ readonly settled: ArrayLike<number>;
}

const sum = (a: V3, b: V3, k = 1): V3 => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
const dot = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const scaled = (a: V3, k: number): V3 => [k * a[0], k * a[1], k * a[2]];
function unit(a: V3, instead: V3): V3 {
  const l = Math.hypot(...a);
  return l > 1e-9 ? scaled(a, 1 / l) : instead;
}

/** Corners of a strip of faces; welded along it so that light runs smoothly. */
export interface Strip {
  readonly position: Float32Array;
  readonly normal: Float32Array;
  readonly flat: Float32Array;
  readonly index: ArrayLike<number>;
}

const pointOf = (line: ArrayLike<number>, i: number): V3 => [line[3 * i], line[3 * i + 1], line[3 * i + 2]];

/** Direction along a line at each of its points, from its neighbours. */
function tangents(line: ArrayLike<number>): V3[] {
  const last = line.length / 3 - 1;
  return Array.from({ length: last + 1 }, (_, i) => unit(sum(pointOf(line, Math.min(last, i + 1)), pointOf(line, Math.max(0, i - 1)), -1), [0, 0, 1]));
}

const topOf = (line: ArrayLike<number>): number => {
  let top = 0;
  for (let i = 1; i < line.length / 3; i++) if (line[3 * i + 2] > line[3 * top + 2]) top = i;
  return top;
};

/** Level direction of the rod under the highest point of a strap: square to the strap there. */
function rodAxis(line: ArrayLike<number>, near: V3): V3 {
  const axis = unit(cross(tangents(line)[topOf(line)], [0, 0, 1]), near);
  return dot(axis, near) < 0 ? scaled(axis, -1) : axis;
}

/** Straps are drawn this thick, m (common practice for webbing, no source): seen on edge they stay in sight. */
const THICK = 0.002;

/** The strap as a band of four sides: flat on its panel at either end, flat over the rod at its top, turning evenly between. */
function ribbon(strap: StrapLine): Strip {
  const { line, width } = strap;
  const n = line.length / 3;
  const along = tangents(line);
  const length = new Float64Array(n);
  for (let i = 1; i < n; i++) length[i] = length[i - 1] + Math.hypot(...sum(pointOf(line, i), pointOf(line, i - 1), -1));
  const top = topOf(line);
  const first = strap.across[0];
  const axis = rodAxis(line, first);
  const last = dot(strap.across[1], axis) < 0 ? scaled(strap.across[1], -1) : strap.across[1];
  const [position, normal, flat] = [new Float32Array(24 * n), new Float32Array(24 * n), new Float32Array(16 * n)];
  const index: number[] = [];
  for (let i = 0; i < n; i++) {
    const end = i <= top ? first : last;
    const share = i <= top ? length[i] / (length[top] || 1) : (length[n - 1] - length[i]) / (length[n - 1] - length[top] || 1);
    const blend = sum(scaled(end, 1 - share), axis, share);
    const side = unit(sum(blend, along[i], -dot(blend, along[i])), axis);
    const face = cross(side, along[i]);
    // Each side by the direction across it and the one that it faces: what lies to its right, square to the strap.
    const sides = [
      [side, face, width, THICK],
      [scaled(face, -1), side, THICK, width],
      [scaled(side, -1), scaled(face, -1), width, THICK],
      [face, scaled(side, -1), THICK, width],
    ] as const;
    sides.forEach(([across, out, wide, deep], f) => {
      for (const k of [0, 1]) {
        const o = 8 * i + 2 * f + k;
        position.set(sum(sum(pointOf(line, i), out, deep / 2), across, (k - 0.5) * wide), 3 * o);
        normal.set(out, 3 * o);
        flat.set([(k - 0.5) * wide, length[i]], 2 * o);
      }
      const [now, before] = [8 * i + 2 * f, 8 * (i - 1) + 2 * f];
      if (i > 0) index.push(before, before + 1, now, before + 1, now + 1, now);
    });
  }
  return { position, normal, flat, index };
}

const ROUND = 16;
/** How far the rod reaches beyond the straps, m. */
const BEYOND = 0.03;

/** What the straps lie on: a plain rod under their tops, along the mean of their own axes. */
function rod(straps: readonly StrapLine[], diameter: number): Strip {
  const tops = straps.map((s) => pointOf(s.line, topOf(s.line)));
  const lead = rodAxis(straps[0].line, straps[0].across[0]);
  const axis = unit(
    straps.reduce<V3>((a, s) => sum(a, rodAxis(s.line, lead)), [0, 0, 0]),
    lead,
  );
  const middle = sum(scaled(tops.reduce(sum3, [0, 0, 0]), 1 / tops.length), [0, 0, 1], -diameter / 2);
  // A strap's straight pieces cut across the round that they lie on; the rod is drawn thinner by that much, so that it stays under them.
  const radius = Math.max(0.3 * diameter, diameter / 2 - 0.003);
  const reach = tops.map((t, i) => ({ at: dot(sum(t, middle, -1), axis), half: straps[i].width / 2 + BEYOND }));
  const ends = [Math.min(...reach.map((r) => r.at - r.half)), Math.max(...reach.map((r) => r.at + r.half))];
  const u = unit(cross(axis, [0, 0, 1]), [1, 0, 0]);
  const w = cross(u, axis);
  // Two rings for the side, two for the ends, whose light is another, and the ends' middles.
  const n = 4 * (ROUND + 1) + 2;
  const [position, normal, flat] = [new Float32Array(3 * n), new Float32Array(3 * n), new Float32Array(2 * n)];
  const index: number[] = [];
  for (const k of [0, 1]) {
    position.set(sum(middle, axis, ends[k]), 3 * (n - 2 + k));
    normal.set(scaled(axis, 2 * k - 1), 3 * (n - 2 + k));
  }
  const rim = 2 * (ROUND + 1);
  for (let i = 0; i <= ROUND; i++) {
    const a = (2 * Math.PI * i) / ROUND;
    const out = sum(scaled(u, Math.cos(a)), w, Math.sin(a));
    for (const k of [0, 1]) {
      position.set(sum(sum(middle, axis, ends[k]), out, radius), 3 * (2 * i + k));
      normal.set(out, 3 * (2 * i + k));
      flat.set([radius * a, ends[k]], 2 * (2 * i + k));
      position.set(sum(sum(middle, axis, ends[k]), out, radius), 3 * (rim + 2 * i + k));
      normal.set(scaled(axis, 2 * k - 1), 3 * (rim + 2 * i + k));
      flat.set([radius * Math.cos(a), radius * Math.sin(a)], 2 * (rim + 2 * i + k));
      if (i > 0) index.push(n - 2 + k, rim + 2 * i + (k === 0 ? -2 : k), rim + 2 * i + (k === 0 ? 0 : -1));
    }
    if (i > 0) index.push(2 * i - 2, 2 * i - 1, 2 * i, 2 * i - 1, 2 * i + 1, 2 * i);
  }
  return { position, normal, flat, index };
}

const sum3 = (a: V3, b: V3): V3 => sum(a, b);

/** Bare metal or wood, of no particular kind. */
export const ROD_LOOK: ClothLook = { cloth: 0, face: [0.2, 0.2, 0.21], lining: [0.2, 0.2, 0.21], pitch: 0.001 };

/** A mesh lit like the cloth; what moves changes its attributes in place. */
export function litMesh(strip: Strip, look: ClothLook, shared: SharedUniforms): Mesh<BufferGeometry, RawShaderMaterial> {
  const geometry = new BufferGeometry();
  const n = strip.position.length / 3;
  geometry.setAttribute('position', new BufferAttribute(strip.position, 3));
  geometry.setAttribute('normal', new BufferAttribute(strip.normal, 3));
  geometry.setAttribute('drafted', new BufferAttribute(strip.flat, 2));
  geometry.setAttribute('bend', new BufferAttribute(new Float32Array(n), 1));
  geometry.setAttribute('below', new BufferAttribute(new Float32Array(n), 1));
  geometry.setIndex(new BufferAttribute(Uint32Array.from(strip.index), 1));
  return new Mesh(geometry, clothProgram(look, shared));
}

/** The straps of one hand and of the other: in the order of their tops along the line from one hand to the other, the first half and the rest. */
function handsOf(straps: readonly StrapLine[]): StrapLine[][] {
  const axis = rodAxis(straps[0].line, straps[0].across[0]);
  const along = (s: StrapLine): number => dot(pointOf(s.line, topOf(s.line)), axis);
  const order = [...straps].sort((a, b) => along(a) - along(b));
  const first = Math.ceil(order.length / 2);
  return [order.slice(0, first), order.slice(first)].filter((held) => held.length > 0);
}

type Lit = Mesh<BufferGeometry, RawShaderMaterial>;

/** Straps, in their order, and rods, lit like the cloth. */
export function hangingMeshes(hanging: Hanging, shared: SharedUniforms): { readonly straps: readonly Lit[]; readonly rods: readonly Lit[] } {
  const straps = hanging.straps.filter((s) => s.line.length >= 6);
  if (straps.length === 0) return { straps: [], rods: [] };
  const rods = hanging.inHands ? handsOf(straps) : [straps];
  return {
    straps: heldUp(straps, shared),
    rods: rods.map((held) => litMesh(rod(held, hanging.diameter), ROD_LOOK, shared)),
  };
}

/** Straps without a rod. */
export const heldUp = (straps: readonly StrapLine[], shared: SharedUniforms): Lit[] =>
  straps.map((s) => litMesh(ribbon(s), { ...s.look, lining: s.look.face }, shared));

/** The strap's mesh to another line of as many points. */
export function hangRibbon({ geometry }: Lit, strap: StrapLine): void {
  const { position, normal } = ribbon(strap);
  for (const [name, now] of [
    ['position', position],
    ['normal', normal],
  ] as const) {
    const attribute = geometry.getAttribute(name);
    if (attribute.array.length !== now.length) return;
    attribute.array.set(now);
    attribute.needsUpdate = true;
  }
}
