import { type BagMesh, EDGE_FREE } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import { depthOf, type Frame, faceNormal, project } from '../picture/camera.ts';
import { chain, facing, shapeEdges } from '../picture/lines.ts';
import { cornerNormals, lightOn, type Normal, SLANT, type Strip } from '../picture/paint.ts';
import type { Solid } from '../picture/solids.ts';
import { px } from '../picture/svg.ts';
import { BAG, SOLID } from '../picture/tokens.ts';
import { pngAddress } from './png.ts';
import { type Colour, type Point3, ZBuffer } from './z-buffer.ts';

/** What is drawn: posed positions, 3 per point. */
export interface SmoothScene {
  readonly mesh: BagMesh;
  readonly x: Float64Array;
  readonly straps: readonly Strip[];
  readonly solids: readonly { readonly solid: Solid; readonly x: Float64Array }[];
}

/** Part of the picture that the bag lies in, px. */
export interface Window {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Points of the image per px of the picture: 2 is 290 dots an inch where a picture of 1440 px is printed 190 mm wide. */
const SHARPNESS = 2;
/** Each of those is the mean of 2 x 2. */
const FINE = 2 * SHARPNESS;
/** A line lies on the cloth: it is hidden where something is nearer by more than this, m. */
const LINE_SLACK = 0.004;
/** Cloth within a panel is one smooth sheet unless its faces meet at more than 75 degrees: the cosine of that. */
const CREASE = 0.26;
/** Straps lie on the cloth, things under it where both are equally near, m. */
const STRAP_OVER = 0.005;
const SOLID_UNDER = 0.008;

const rgb = (hex: string): Colour => [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16)) as unknown as Colour;

const OUTSIDE = [rgb(BAG.dark), rgb(BAG.light)] as const;
const INSIDE = [rgb(BAG.insideDark), rgb(BAG.insideLight)] as const;
const WOOD = [rgb(SOLID.dark), rgb(SOLID.light)] as const;
const STRAP = [rgb(BAG.dark), rgb(BAG.light)] as const;
const STRAP_LIGHT = 0.35;

/**
 * The settled bag as an image of points inside an SVG, with seams and rims as lines over it. Every point is lit by the normal at its own place, the corners' normals
 * in between, so that no facet of the mesh shows; what is nearer hides what is behind, point by point. Creases and seams stay sharp. Deterministic.
 */
export function smoothBag(scene: SmoothScene, frame: Frame, room: Window): string {
  const window = windowOf(scene, frame, room);
  const buffer = new ZBuffer(Math.round(FINE * window.width), Math.round(FINE * window.height));
  const at = (x: ArrayLike<number>, v: number, nearer = 0): Point3 => {
    const [sx, sy] = project(frame, x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!);
    return { x: FINE * (sx - window.left), y: FINE * (sy - window.top), depth: depthOf(x as Float64Array, v) - nearer };
  };
  for (const { solid, x } of scene.solids) paintSolid(buffer, solid, x, (v) => at(x, v, -SOLID_UNDER));
  paintCloth(buffer, scene, (v) => at(scene.x, v));
  for (const s of scene.straps) paintStrap(buffer, s, frame.scale, (v) => at(s.line, v, STRAP_OVER));
  const lines = seenLines(buffer, scene, (v) => at(scene.x, v));
  const image = `<image x="${px(window.left)}" y="${px(window.top)}" width="${px(window.width)}" height="${px(window.height)}" href="${pngAddress(buffer.halved())}"/>`;
  const drawn = lines.map(({ rim, points }) => {
    const d = points.map((p) => `${px(p.x / FINE + window.left)} ${px(p.y / FINE + window.top)}`).join('L');
    return `<path fill="none" class="${rim ? 'rim' : 'sew'}" d="M${d}"/>`;
  });
  return image + drawn.join('');
}

/** The part of the room that anything lies in, whole px, with the width of a line round it. */
function windowOf({ x, straps, solids }: SmoothScene, frame: Frame, room: Window): Window {
  const [low, high] = [
    [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY],
    [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY],
  ];
  const wide = Math.max(0, ...straps.map((s) => s.width)) * frame.scale;
  for (const list of [x, ...straps.map((s) => s.line), ...solids.map((s) => s.x)])
    for (let i = 0; i + 2 < list.length; i += 3)
      project(frame, list[i]!, list[i + 1]!, list[i + 2]!).forEach((v, k) => {
        low[k] = Math.min(low[k]!, v);
        high[k] = Math.max(high[k]!, v);
      });
  const edge = 2 + wide;
  const left = Math.max(room.left, Math.floor(low[0]! - edge));
  const top = Math.max(room.top, Math.floor(low[1]! - edge));
  const right = Math.min(room.left + room.width, Math.ceil(high[0]! + edge));
  const bottom = Math.min(room.top + room.height, Math.ceil(high[1]! + edge));
  return { left, top, width: Math.max(1, right - left), height: Math.max(1, bottom - top) };
}

/** Light at a place between three corners with these normals; side -1: seen from behind. */
const litBy =
  (a: Normal, b: Normal, c: Normal, side: 1 | -1) =>
  (wa: number, wb: number, wc: number): number => {
    const x = wa * a[0] + wb * b[0] + wc * c[0];
    const y = wa * a[1] + wb * b[1] + wc * c[1];
    const z = wa * a[2] + wb * b[2] + wc * c[2];
    const l = side * Math.sqrt(x * x + y * y + z * z);
    return l === 0 ? 0.36 : lightOn([x / l, y / l, z / l]);
  };

function paintCloth(buffer: ZBuffer, { mesh, x }: SmoothScene, at: (v: number) => Point3): void {
  const seen = facing(mesh, x);
  const normals = cornerNormals(mesh, x, CREASE);
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const [a, b, c] = [0, 1, 2].map((k) => at(mesh.triVerts[3 * t + k]!));
    const n = normals(t);
    buffer.triangle(a!, b!, c!, seen[t] === 1 ? OUTSIDE : INSIDE, litBy(n[0], n[1], n[2], seen[t] === 1 ? 1 : -1));
  }
}

/** Only what faces outward is drawn: things are closed. */
function paintSolid(buffer: ZBuffer, { triVerts }: Solid, x: Float64Array, at: (v: number) => Point3): void {
  const normals = new Float64Array(x.length);
  for (let t = 0; t < triVerts.length / 3; t++) {
    const n = faceNormal(x, triVerts, t);
    for (let k = 0; k < 3; k++) for (let c = 0; c < 3; c++) normals[3 * triVerts[3 * t + k]! + c]! += n[c]!;
  }
  const normal = (v: number): Normal => [normals[3 * v]!, normals[3 * v + 1]!, normals[3 * v + 2]!];
  for (let t = 0; t < triVerts.length / 3; t++) {
    const [a, b, c] = [triVerts[3 * t]!, triVerts[3 * t + 1]!, triVerts[3 * t + 2]!];
    buffer.triangle(at(a), at(b), at(c), WOOD, litBy(normal(a), normal(b), normal(c), 1));
  }
}

/** A band along the strap's line, as wide as it is seen slantwise. */
function paintStrap(buffer: ZBuffer, s: Strip, scale: number, at: (v: number) => Point3): void {
  const half = (FINE * Math.max(2, SLANT * s.width * scale)) / 2;
  const points = Array.from({ length: s.line.length / 3 }, (_, v) => at(v));
  // One direction across at each point, so that neighbours meet.
  const across = points.map((_, i): readonly [number, number] => {
    const [p, q] = [points[Math.max(0, i - 1)]!, points[Math.min(points.length - 1, i + 1)]!];
    const l = libm.hypot(q.x - p.x, q.y - p.y);
    return l > 0 ? [(-(q.y - p.y) / l) * half, ((q.x - p.x) / l) * half] : [half, 0];
  });
  const side = (i: number, sign: 1 | -1): Point3 => ({
    x: points[i]!.x + sign * across[i]![0],
    y: points[i]!.y + sign * across[i]![1],
    depth: points[i]!.depth,
  });
  for (let i = 0; i + 1 < points.length; i++) {
    buffer.triangle(side(i, 1), side(i, -1), side(i + 1, 1), STRAP, () => STRAP_LIGHT);
    buffer.triangle(side(i, -1), side(i + 1, -1), side(i + 1, 1), STRAP, () => STRAP_LIGHT);
  }
}

/** Seams, rims and silhouettes as far as they are seen, each run on from point to point. */
function seenLines(buffer: ZBuffer, { mesh, x }: SmoothScene, at: (v: number) => Point3): { readonly rim: boolean; readonly points: readonly Point3[] }[] {
  const edges = shapeEdges(mesh, x);
  return [true, false].flatMap((rim) =>
    chain(
      mesh,
      edges.filter((e) => (mesh.edgeKind[e] === EDGE_FREE) === rim),
      x,
    ).flatMap((line) => {
      const out: { rim: boolean; points: Point3[] }[] = [];
      let run: Point3[] = [];
      const close = (): void => {
        if (run.length > 1) out.push({ rim, points: run });
        run = [];
      };
      for (let i = 0; i + 1 < line.length; i++) {
        const [p, q] = [at(line[i]!), at(line[i + 1]!)];
        const steps = Math.max(1, Math.ceil(libm.hypot(q.x - p.x, q.y - p.y) / FINE / 3));
        for (let k = i === 0 ? 0 : 1; k <= steps; k++) {
          const t = k / steps;
          const point = { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y), depth: p.depth + t * (q.depth - p.depth) };
          if (buffer.seen(point, LINE_SLACK)) run.push(point);
          else close();
        }
      }
      close();
      return out;
    }),
  );
}
