import { libm } from '../numerics/index.ts';
/** The way of a strap at the start: up its panel, over the bar, down again, as long as the strap is. */

export type Vec = readonly [number, number, number];

export interface Over {
  /** A point of the bar's middle line, m; only its level place matters, the height is `height`. */ readonly centre: Vec;
  /** Level unit vector from the first anchor to the second, and the bar's own direction, square to it. */
  readonly span: Vec;
  readonly axis: Vec;
  /** Radius of the strap's middle line on the bar, m. */ readonly radius: number;
}

const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const distance = (a: Vec, b: Vec): number => libm.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** Points along a leg and on a quarter of the bar. */
const LEG = 24;
const ARC = 24;

/**
 * Polyline from `from` (where the strap leaves its panel) over a bar whose middle line passes at height `height`, to `to`. On the bar it lies at
 * `across` along the axis. `bow` pushes each leg outward by that much in its middle: how a strap that is longer than its way begins.
 * null when an end lies inside the bar.
 */
export function overBar(bar: Over, from: Vec, to: Vec, height: number, across: number, bow: number): Vec[] | null {
  const flat = (p: Vec): [number, number, number] => {
    const d: Vec = [p[0] - bar.centre[0], p[1] - bar.centre[1], 0];
    return [dot(d, bar.span), p[2] - height, dot(d, bar.axis)];
  };
  const legs = [leg(flat(from), bar.radius, -1, across, bow), leg(flat(to), bar.radius, 1, across, bow)];
  const [left, right] = legs;
  if (!left || !right) return null;
  const arc: [number, number, number][] = [];
  for (let i = 1; i < ARC; i++) {
    const a = left.angle + ((right.angle - left.angle) * i) / ARC;
    arc.push([bar.radius * libm.cos(a), bar.radius * libm.sin(a), across]);
  }
  const path = [...left.points, ...arc, ...right.points.reverse()];
  return path.map(([s, z, y]): Vec => [bar.centre[0] + s * bar.span[0] + y * bar.axis[0], bar.centre[1] + s * bar.span[1] + y * bar.axis[1], height + z]);
}

/** One leg in the bar's own frame (across the bar, up, along it): from p to where it touches the circle, on the side given. */
function leg(p: readonly [number, number, number], radius: number, side: -1 | 1, across: number, bow: number) {
  const away = libm.hypot(p[0], p[1]);
  if (!(away > radius * 1.001)) return null;
  // Touching point: the radius there is square to the leg, so it stands off the line to p by acos(radius/away), upward.
  const toward = libm.atan2(p[1], p[0]),
    turn = libm.acos(radius / away);
  let angle = toward + (side < 0 ? -turn : turn);
  while (angle < -Math.PI / 2) angle += 2 * Math.PI;
  while (angle > (3 * Math.PI) / 2) angle -= 2 * Math.PI;
  const end = [radius * libm.cos(angle), radius * libm.sin(angle), across] as const;
  const dx = end[0] - p[0],
    dz = end[1] - p[1],
    l = libm.hypot(dx, dz) || 1;
  // Outward is away from the middle between the two legs.
  const nx = (side * Math.abs(dz)) / l,
    nz = (-side * Math.sign(dz || 1) * dx) / l;
  const points: [number, number, number][] = [];
  for (let i = 0; i <= LEG; i++) {
    const t = i / LEG,
      out = bow * libm.sin(Math.PI * t);
    points.push([p[0] + t * dx + out * nx, p[1] + t * dz + out * nz, p[2] + t * (end[2] - p[2])]);
  }
  return { points, angle };
}

export function lengthOf(path: readonly Vec[]): number {
  let sum = 0;
  for (let i = 0; i + 1 < path.length; i++) sum += distance(path[i]!, path[i + 1]!);
  return sum;
}

/**
 * Points on a polyline, ends included, whose spacing grows from `fine` near the middle of the path (within `near` of it) by a third of the
 * distance beyond to at most `coarse`. Symmetric about the middle, so that a level bag starts level.
 */
export function resample(path: readonly Vec[], fine: number, coarse: number, near: number): Vec[] {
  const total = lengthOf(path),
    half = total / 2,
    marks = [half];
  for (let d = 0; d < half - fine / 2; ) {
    const step = Math.min(coarse, fine + Math.max(0, d - near) / 3);
    d = Math.min(half, d + step);
    // The last piece takes what is left, if that is less than half a step.
    if (half - d < step / 2) d = half;
    marks.push(half - d, half + d);
  }
  marks.sort((a, b) => a - b);
  const out: Vec[] = [];
  let i = 0,
    gone = 0;
  for (const m of marks) {
    while (i + 2 < path.length && gone + distance(path[i]!, path[i + 1]!) < m) {
      gone += distance(path[i]!, path[i + 1]!);
      i++;
    }
    const l = distance(path[i]!, path[i + 1]!),
      t = l > 0 ? Math.min(1, Math.max(0, (m - gone) / l)) : 0,
      [a, b] = [path[i]!, path[i + 1]!];
    out.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])]);
  }
  return out;
}
