import { type Bag, BagError, type Form, type Ground, type Side, type Stance } from '../bag/types.ts';
import { hardwareFigures } from '../material/index.ts';
import type { FootPoint } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { isBase } from '../placement/index.ts';
import type { Support, SupportShape } from '../solver/types.ts';
import { GRAVITY } from '../units/index.ts';
import { reachThrough } from './reaches.ts';

/** Distance from the sheet's middle at which a support is felt, m. Drawn and measured heights start at the sheet, not the table. */
const SKIN = 1e-3;
/** Lowest vertices of a bag without a base: within this of the lowest, m. */
const LOWEST = 1e-6;

const AWAY: Readonly<Record<Side, readonly [number, number]>> = { front: [0, -1], back: [0, 1], left: [-1, 0], right: [1, 0] };

type Standing = Extract<Stance, { kind: 'standing' }>;

/** Gravity in the frame of the table, m/s2: a tilted table is drawn and measured level, and what tilts is the pull. */
export function pullOf(stance: Stance): readonly [number, number, number] {
  const ground = stance.kind === 'standing' ? stance.ground : null;
  if (!ground || ground.tilt === 0) return [0, 0, -GRAVITY];
  const [u, v] = AWAY[ground.toward];
  const s = GRAVITY * libm.sin(ground.tilt);
  return [s * u, s * v, -GRAVITY * libm.cos(ground.tilt)];
}

/**
 * Would a level pull of `fraction` of the weight, down the slope, slide the bag along its table? Coulomb: the pull along the table at least the friction
 * coefficient times the pull onto it. False where its base is held, and where it stands on forms alone, whose sides are no slope.
 */
export function slidesUnder(stance: Stance, fraction: number): boolean {
  if (stance.kind !== 'standing') return false;
  const { ground, friction } = stance;
  if (ground && (ground.base !== 'free' || ground.on !== 'table')) return false;
  const [x, y, z] = pullOf(stance);
  return libm.hypot(x, y) + fraction * GRAVITY >= friction * -z;
}

/** Turns the weight part (z) of contents' forces, N (3n), into the direction of the pull; their push on the walls stays as it is. Mutates load. */
export function tiltLoad(load: Float64Array, pull: readonly [number, number, number]): void {
  for (let v = 0; v < load.length; v += 3) {
    const w = -load[v + 2]! / GRAVITY;
    load[v] = load[v]! + w * pull[0];
    load[v + 1] = load[v + 1]! + w * pull[1];
    load[v + 2] = w * pull[2];
  }
}

/**
 * What the stance's forms and ground are for the solver. Feet lower the table under the bag by the tallest of them; each foot's point feels a table of its own as high as
 * the foot lifts it, and the cloth between them the real one where it sags that far.
 */
export function standsOn(stance: Standing, feet: readonly FootPoint[] = [], vertices = 0): Support[] {
  const { ground, friction } = stance,
    heights = feet.map((f) => hardwareFigures(f.hardware).height),
    lift = Math.max(0, ...heights);
  const plane = (name: string, z: number, only?: Uint8Array): Support => ({
    name,
    sdf: { kind: 'plane', point: [0, 0, z - SKIN], normal: [0, 0, 1] },
    friction,
    offset: SKIN,
    ...(only ? { only } : {}),
  });
  const under = [...new Set(heights)].map((h) => {
    const only = new Uint8Array(vertices);
    feet.forEach((f, i) => {
      if (heights[i] === h) only[f.vertex] = 1;
    });
    return plane('feet', h - lift, only);
  });
  const table = plane('table', lift === 0 ? 0 : -lift);
  if (!ground) return [table, ...under];
  return [
    ...(ground.on === 'table' ? [table, ...under] : []),
    ...ground.forms.map((f, i): Support => ({ name: `${f.form} ${i + 1}`, sdf: shapeOf(f), friction: f.friction, offset: SKIN })),
  ];
}

/** Signed distance shape of a form where it stands. */
export function shapeOf(f: Form): SupportShape {
  switch (f.form) {
    case 'ball':
      return { kind: 'sphere', centre: f.at, radius: f.diameter / 2 };
    case 'roll':
    case 'bolster': {
      const half = f.length / 2 - (f.form === 'bolster' ? f.diameter / 2 : 0);
      const end = (k: number): [number, number, number] => [
        f.at[0] + (f.along === 'x' ? k * half : 0),
        f.at[1] + (f.along === 'y' ? k * half : 0),
        f.at[2] + (f.along === 'z' ? k * half : 0),
      ];
      const ends = { a: end(-1), b: end(1), radius: f.diameter / 2 };
      return f.form === 'bolster' ? { kind: 'capsule', ...ends } : { kind: 'cylinder', ...ends, round: f.round };
    }
    default: {
      const half = [f.size[0] / 2, f.size[1] / 2, f.size[2] / 2] as const;
      const whole = (centre: readonly [number, number, number]): SupportShape =>
        f.form === 'block' ? { kind: 'box', centre, half, round: f.round } : { kind: 'ellipsoid', centre, half };
      if (f.turn === 0) return whole(f.at);
      const [c, s] = [libm.cos(f.turn), libm.sin(f.turn)];
      return { kind: 'posed', shape: whole([0, 0, 0]), origin: f.at, axes: [c, s, 0, -s, c, 0, 0, 0, 1] };
    }
  }
}

/** Vertices that a glued or hinged base holds: 1 = held. Hinged: where base and walls meet; without a base both mean the lowest drafted line. */
export function heldBase(bag: Bag, ground: Ground, mesh: BagMesh, placed: Float64Array): Uint8Array {
  const out = new Uint8Array(mesh.vertexCount);
  if (ground.base === 'free') return out;
  const [base, walls] = [new Uint8Array(mesh.vertexCount), new Uint8Array(mesh.vertexCount)];
  for (let t = 0; t < mesh.triPanel.length; t++) for (let k = 0; k < 3; k++) (isBase(bag, mesh, t) ? base : walls)[mesh.triVerts[3 * t + k]!] = 1;
  if (base.some((b) => b === 1)) return ground.base === 'glued' ? base : base.map((b, v) => b & walls[v]!);
  let low = Number.POSITIVE_INFINITY;
  for (let v = 0; v < mesh.vertexCount; v++) low = Math.min(low, placed[3 * v + 2]!);
  return out.map((_, v) => (placed[3 * v + 2]! - low < LOWEST ? 1 : 0));
}

/** Throws BagError when a form stands in the drafted bag's cloth: from there no state without the one passing through the other is reached. */
export function assertClear(stance: Standing, mesh: BagMesh, placed: Float64Array): void {
  const faults = (stance.ground?.forms ?? []).flatMap((f, i) => {
    const { by, panel } = reachThrough(shapeOf(f), mesh, placed);
    if (by < SKIN) return [];
    const got = `[${f.at.map((v) => `${Number((v * 1000).toFixed(1))} mm`).join(', ')}]`;
    return [
      {
        path: `stances.${stance.name}.forms[${i}].at`,
        got,
        expected: `a place clear of the bag: the ${f.form} reaches ${(by * 1000).toFixed(1)} mm through ${panel}`,
      },
    ];
  });
  if (faults.length > 0) throw new BagError(faults);
}
