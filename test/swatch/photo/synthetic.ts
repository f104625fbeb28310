import type { PhotoMarks, Pixel } from '../../../src/swatch/index.ts';

/**
 * Photographs that were never taken: the exact strip by an integration of its own (from the edge outward, by shooting on the moment there, where the program
 * goes from the tip inward and never shoots), seen by a pinhole camera held askew.
 */
export function exactStrip(K: number, clampAngle: number, steps = 4000): (s: number) => Pixel {
  const run = (bend0: number, keep?: (x: number, y: number) => void): number => {
    const h = 1 / steps;
    let [t, b, x, y] = [clampAngle, bend0, 0, 0];
    keep?.(0, 0);
    for (let i = 0; i < steps; i++) {
      const s = i * h;
      const f = (at: number, theta: number): number => -K * (1 - at) * Math.cos(theta);
      const k1 = f(s, t);
      const k2 = f(s + h / 2, t + (h / 2) * b);
      const k3 = f(s + h / 2, t + (h / 2) * (b + (h / 2) * k1));
      const k4 = f(s + h, t + h * (b + (h / 2) * k2));
      const [t2, t3, t4] = [t + (h / 2) * b, t + (h / 2) * (b + (h / 2) * k1), t + h * (b + (h / 2) * k2)];
      x += (h / 6) * (Math.cos(t) + 2 * Math.cos(t2) + 2 * Math.cos(t3) + Math.cos(t4));
      y += (h / 6) * (Math.sin(t) + 2 * Math.sin(t2) + 2 * Math.sin(t3) + Math.sin(t4));
      t += h * (b + (h / 6) * (k1 + k2 + k3));
      b += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
      keep?.(x, y);
    }
    return b;
  };
  let [low, high] = [0, K];
  for (let i = 0; i < 100; i++) {
    const mid = (low + high) / 2;
    if (run(mid) > 0) high = mid;
    else low = mid;
  }
  const places: Pixel[] = [];
  run((low + high) / 2, (x, y) => places.push([x, y]));
  return (s) => {
    const i = Math.min(steps - 1, Math.floor(s * steps));
    const q = s * steps - i;
    const [a, b] = [places[i]!, places[i + 1]!];
    return [a[0] + q * (b[0] - a[0]), a[1] + q * (b[1] - a[1])];
  };
}

const normalFrom = (chance: () => number) => (): number => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());

export interface Synthetic {
  readonly marks: PhotoMarks;
  readonly bendingLength: number;
  readonly load: number;
  /** From edge to tip, m. */ readonly length: number;
}

/** Width and height of the pictures, pixels. */
export const SIZE: Pixel = [4000, 3000];

/** Where the lines through `n` places of each side of a quadrilateral meet, its corners left out as a card's are round. */
function bySides(corners: readonly Pixel[], n: number, mark: (at: Pixel) => Pixel): Pixel[] {
  const lines = corners.map((from, i) => {
    const to = corners[(i + 1) % 4]!;
    const at = Array.from({ length: n }, (_, k) => {
      const q = 0.12 + (0.76 * k) / (n - 1);
      return mark([from[0] + q * (to[0] - from[0]), from[1] + q * (to[1] - from[1])]);
    });
    const mean = [0, 1].map((k) => at.reduce((s, p) => s + p[k]!, 0) / n) as [number, number];
    const [xx, xy, yy] = at.reduce(
      ([a, b, c], p) => [a! + (p[0] - mean[0]) ** 2, b! + (p[0] - mean[0]) * (p[1] - mean[1]), c! + (p[1] - mean[1]) ** 2],
      [0, 0, 0],
    );
    return { mean, angle: Math.atan2(2 * xy!, xx! - yy!) / 2 };
  });
  return lines.map((b, i): Pixel => {
    const a = lines[(i + 3) % 4]!;
    const t = ((b.mean[0] - a.mean[0]) * Math.sin(b.angle) - (b.mean[1] - a.mean[1]) * Math.cos(b.angle)) / Math.sin(b.angle - a.angle);
    return [a.mean[0] + t * Math.cos(a.angle), a.mean[1] + t * Math.sin(a.angle)];
  });
}

export interface Shot {
  /** Noise of the places on the strip, the edge and the table, m. */ readonly noise: number;
  /** Noise of the card's corners, m. */ readonly corners: number;
  readonly tilt: number;
  /** Corners are where the card's sides meet, each the line through so many places off by `corners`; left out: they are marked themselves. */ readonly sides?: number;
  /** The card stands on the table instead of lying anywhere, turned. */ readonly standing?: boolean;
  readonly bendingLength?: readonly [number, number];
  readonly load?: readonly [number, number];
  readonly count?: number;
}

/** A random strip, camera and card. Lengths m, angles rad; `chance` seeded. The strip's plane: x out, y down, the edge at the origin. */
export function synthetic(chance: () => number, shot: Shot): Synthetic {
  const between = (a: number, b: number): number => a + (b - a) * chance();
  const normal = normalFrom(chance);
  const bendingLength = between(...(shot.bendingLength ?? [0.02, 0.06]));
  const load = between(...(shot.load ?? [3, 30]));
  const length = bendingLength * Math.cbrt(load);
  const strip = exactStrip(load, (between(-3, 3) * Math.PI) / 180, 400);
  const count = shot.count ?? 5 + Math.floor(16 * chance());
  const places = Array.from({ length: count }, (_, i): Pixel => {
    const s = i === count - 1 ? 1 : (i + 1) / count + between(-0.2, 0.2) / count;
    const [x, y] = strip(s);
    return [length * x, length * y];
  });
  const middle = places[Math.floor(count / 2)]!;
  // The card: on the table beside the edge, or anywhere within 15 cm of the strip's middle, turned.
  const turn = shot.standing ? 0 : between(0, 2 * Math.PI);
  const centre: Pixel = shot.standing ? [-between(0.05, 0.12), -0.027] : [middle[0] + between(-0.12, 0.12), middle[1] + between(-0.12, 0.12)];
  const [w, h] = [0.0856 / 2, 0.05398 / 2];
  const card = [
    [-w, -h],
    [w, -h],
    [w, h],
    [-w, h],
  ].map(([x, y]): Pixel => [centre[0] + x! * Math.cos(turn) - y! * Math.sin(turn), centre[1] + x! * Math.sin(turn) + y! * Math.cos(turn)]);
  // The camera: tilted about a level or upright or any axis in the picture's plane, rolled by hand, 45 to 80 cm away.
  const [axis, tilt, roll, away] = [between(0, 2 * Math.PI), between(0, shot.tilt), between(-0.1, 0.1), between(0.45, 0.8)];
  const focal = between(2500, 3500);
  const seen = ([x, y]: Pixel): Pixel => {
    const [dx, dy] = [x - middle[0], y - middle[1]];
    const [u, v] = [dx * Math.cos(axis) + dy * Math.sin(axis), -dx * Math.sin(axis) + dy * Math.cos(axis)];
    const [v2, z] = [v * Math.cos(tilt), away + v * Math.sin(tilt)];
    const [px, py] = [(focal * u) / z, (focal * v2) / z];
    const back: Pixel = [px * Math.cos(axis) - py * Math.sin(axis), px * Math.sin(axis) + py * Math.cos(axis)];
    return [2000 + back[0] * Math.cos(roll) - back[1] * Math.sin(roll), 1500 + back[0] * Math.sin(roll) + back[1] * Math.cos(roll)];
  };
  const off = ([x, y]: Pixel, noise: number): Pixel => seen([x + noise * normal(), y + noise * normal()]);
  const mark = (at: Pixel): Pixel => off(at, shot.noise);
  return {
    marks: {
      card: shot.sides
        ? bySides(card, shot.sides, (at) => [at[0] + shot.corners * normal(), at[1] + shot.corners * normal()]).map(seen)
        : card.map((at) => off(at, shot.corners)),
      ruler: null,
      table: shot.standing ? [mark([0, 0])] : [mark([0, 0]), mark([-between(0.1, 0.25), 0])],
      strip: places.map(mark),
      // A line through n places over 0.76 of a side is known at its end to sqrt(6.2 / n) of what each is off.
      scaleNoise: shot.corners > 0 ? shot.corners * (shot.sides ? Math.sqrt(6.2 / shot.sides) : 1) : null,
    },
    bendingLength,
    load,
    length,
  };
}
